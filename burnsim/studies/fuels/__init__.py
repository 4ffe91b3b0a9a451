"""Spirits compared: on paper, in a burner, watered down, distilling."""

"""Sweeps: every combination or a sample of designs, burnt, kept and read back."""

"""What a person describes: burner, pot, charge, site; its checks and its tables."""

"""The cross-section of burner and pot, to scale: walls, levels, flames and measures."""

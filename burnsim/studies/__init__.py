"""Studies: what many burns tell about a design."""

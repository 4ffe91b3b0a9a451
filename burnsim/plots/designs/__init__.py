"""Pictures of many designs: sweeps and searches."""

"""Fits of the curves of pure liquids, of their mixtures with water, and of pairs; NumPy and SciPy."""

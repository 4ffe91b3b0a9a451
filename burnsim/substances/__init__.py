"""Fuels and blends, water, air and metals: everything that a temperature or a composition decides."""

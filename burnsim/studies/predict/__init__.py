"""Quantiles and chances instead of one number, and which unknown matters."""

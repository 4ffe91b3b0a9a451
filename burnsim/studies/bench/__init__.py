"""Bench logs: read, checked and analysed."""

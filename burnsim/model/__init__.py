"""Descriptions, the named state, and the balances that decide how it changes."""

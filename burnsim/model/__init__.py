"""Descriptions, the named state, and the balances that decide how it changes."""

from burnsim.model.description.files import Design, as_setup, is_design
from burnsim.model.description.setup import Setup
from burnsim.model.description.vary import value_at, vary

__all__ = ["Design", "Setup", "as_setup", "is_design", "value_at", "vary"]

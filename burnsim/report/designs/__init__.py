"""Words of what compares designs and what betters them."""

"""From a description to the parameter record: every constant that the balances read, derived once."""

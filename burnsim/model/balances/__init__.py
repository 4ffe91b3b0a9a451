"""The balances: from the state of an instant to every named flow."""

"""How much may be poured in before liquid leaves through the jets."""

"""The pot: the gas along it, the dew on it, and every flow of heat and vapour to and from it."""

"""Whether a burner starts: over air temperature and altitude, and with how much primer."""

"""The subcommands that weigh one design against others."""

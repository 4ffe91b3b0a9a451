"""What came of a burn: its account, milestones, ledgers, verdicts and series."""

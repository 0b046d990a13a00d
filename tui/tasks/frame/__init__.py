"""What every task's screen shares: its keys, lists and pages, entries, help."""

"""What every task's screen shares: title, keys, help, columns."""

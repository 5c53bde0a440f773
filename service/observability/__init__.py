"""What an operator sees: log lines, metrics, traces."""

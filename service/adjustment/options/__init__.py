"""The search for options: candidates of every lever, ranking, result."""

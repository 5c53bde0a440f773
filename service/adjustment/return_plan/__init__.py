"""The way back: problem, states, transitions, search, plan."""

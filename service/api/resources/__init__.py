"""The service about itself: where things are, its state, and what its problems mean."""

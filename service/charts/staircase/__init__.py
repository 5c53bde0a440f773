"""The way back as a staircase."""

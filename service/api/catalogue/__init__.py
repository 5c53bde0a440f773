"""The GET resources behind the numbers."""

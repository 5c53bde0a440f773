"""The lifter seen from the side."""

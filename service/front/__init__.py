"""What stands before every route: observation, limits, access. None of it knows what an operation computes."""

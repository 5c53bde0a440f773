"""What stands before every route, one concern a module."""

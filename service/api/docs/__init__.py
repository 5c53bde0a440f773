"""The page at /docs."""

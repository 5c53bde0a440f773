"""Pictures made from results."""

"""Request and answer shapes that several operations share."""

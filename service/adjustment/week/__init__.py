"""A whole week of training: what its lifts ask of a region together, and what they give each muscle."""

"""Body, posture, moments, spine and stance: statics in SI units, pure functions."""

"""Loads, repetitions, volume, tempo and plates: pure functions in SI units."""

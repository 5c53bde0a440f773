"""Propagation of uncertainty through the mechanics (JCGM 100)."""

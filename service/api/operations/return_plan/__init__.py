"""The steps from an adjusted prescription back to the original."""

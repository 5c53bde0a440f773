"""The description of the interface, made from what is served."""

"""Program adjustment for lifters who hurt: computed, sourced, with its uncertainty."""

__version__ = "0.9.0"

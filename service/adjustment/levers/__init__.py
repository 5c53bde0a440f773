"""The levers: each module tries one kind of change and yields what came of it, an option or a reason."""

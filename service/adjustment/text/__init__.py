"""Every sentence for people, in one room."""

"""What the service knows: data files with their sources, and their loader."""

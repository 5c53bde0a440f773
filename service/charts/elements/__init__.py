"""What every chart is made of: theme, text, axes, layout."""

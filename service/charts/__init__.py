"""Charts as SVG, drawn from results."""

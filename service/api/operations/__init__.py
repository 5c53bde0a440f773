"""The computations, one module or package each: models, handler, chart, examples."""

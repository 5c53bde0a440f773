"""What speaks for and against each quantity: GET /v1/evidence, as JSON and as a page."""

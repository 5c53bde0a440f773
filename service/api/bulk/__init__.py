"""Many questions in one request: batches and tables, streamed."""

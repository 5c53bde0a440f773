"""HTTP alone: messages, negotiation, problems, middleware and the server; knows no operation and no domain."""

"""HTTP only: requests and answers of each operation, problems, the description and its page."""

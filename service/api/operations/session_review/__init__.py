"""What the response to a session decides for the next one."""

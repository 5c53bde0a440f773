"""The server's protocol with limits of its own."""

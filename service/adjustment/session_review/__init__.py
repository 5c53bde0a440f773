"""What a course of sessions decides, and the prescription that follows."""

"""What was said, and when; what was seen, and when."""

"""What is learned from the sayings."""

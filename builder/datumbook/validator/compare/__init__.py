"""What the book was given against what stands there now."""

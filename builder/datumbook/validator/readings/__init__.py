"""What was typed, and whether it could be a slip."""

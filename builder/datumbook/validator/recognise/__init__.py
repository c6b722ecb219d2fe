"""Is it a book of ours, and of which version."""

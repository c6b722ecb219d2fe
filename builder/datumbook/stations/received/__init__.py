"""What comes in: the block as it is measured before any cut."""

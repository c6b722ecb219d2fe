"""What goes out: the block measured again, the fits, the release."""

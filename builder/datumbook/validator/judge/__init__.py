"""What holds the job up."""

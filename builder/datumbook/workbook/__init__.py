"""One block's book before it is a file: what each cell is, where it stands, what it is worth."""

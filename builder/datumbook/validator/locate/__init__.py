"""Where every cell of a returned book stands now."""

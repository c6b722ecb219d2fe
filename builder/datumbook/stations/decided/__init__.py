"""What is decided before a cut: the plan, the metal budget, the parts at hand."""

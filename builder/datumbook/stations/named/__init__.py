"""Stations that stand in a book only where its job names them."""

"""Numbers of the trade: units, sizes as people write them, and how they are printed."""

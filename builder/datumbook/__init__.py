"""One self-checking workbook for each engine block on its way through the machine shop.

The one rule: an equation called with numbers gives a number; called with cells gives a formula.
DEVELOPERS.md is the map of the floors; a module imports only from the floors below its own.
"""

from __future__ import annotations

VERSION = "0.1.0"

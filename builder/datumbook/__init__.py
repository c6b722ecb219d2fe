"""One self-checking workbook for each engine block on its way through the machine shop.

The one rule: an equation called with numbers gives a number; called with cells gives a formula.
DEVELOPERS.md is the map of the floors; a module imports only from the floors below its own. What
programs call stands in `__all__`, is loaded when it is first asked for, and is told of by
`datumbook manual programs`.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from datumbook.api import (
        BookWritten,
        ExpectedError,
        Plan,
        ReadingTold,
        Spec,
        Validation,
        fill,
        generate,
        plan,
        read_spec,
        readings,
        validate,
    )

__all__ = [
    "VERSION",
    "BookWritten",
    "ExpectedError",
    "Plan",
    "ReadingTold",
    "Spec",
    "Validation",
    "fill",
    "generate",
    "plan",
    "read_spec",
    "readings",
    "validate",
]

VERSION = "0.1.0"


def __getattr__(name: str) -> Any:
    """Load what programs call when it is first asked for. AttributeError for what there is not."""
    if name not in __all__:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    from importlib import import_module

    found = globals()[name] = getattr(import_module("datumbook.api"), name)
    return found


def __dir__() -> list[str]:
    return sorted({*globals(), *__all__})

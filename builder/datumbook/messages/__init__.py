"""What is said, as data: findings of a workbook, refusals of a spec, the bibliography."""

from __future__ import annotations


class ExpectedError(ValueError):
    """Something a person can put right; as text what is wrong, where, and what to do."""

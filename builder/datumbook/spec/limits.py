"""Limits as a spec writes them: from and to, at most, at least, or a nominal with its plus and
minus.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from typing import Any, cast

from pydantic import BaseModel, ConfigDict, Field, model_validator

from datumbook.numbers.printing import limits_in_words
from datumbook.numbers.quantities import Quantity
from datumbook.spec.values import LengthSigned, LengthTolerance, NotBlank, refused

LIMIT_GUESSED = "limit guessed: put the maker's figure in the engine file"
FORMS = (("from", "to"), ("at_most",), ("at_least",), ("nominal", "plus", "minus"))


class SpecPart(BaseModel):
    """A table of a spec: no keys but its own, never changed after reading."""

    model_config = ConfigDict(extra="forbid", frozen=True, strict=True, defer_build=True)


def form_in_schema(wanted: Iterable[str]) -> dict[str, Any]:
    """Return the schema of a table that has these keys, whatever they hold."""
    keys = list(wanted)
    return {"type": "object", "required": keys, "properties": {key: {} for key in keys}}


class Limit(SpecPart):
    """What a measured value is held to, in one of four forms, and where that comes from."""

    model_config = ConfigDict(json_schema_extra={"oneOf": [form_in_schema(form) for form in FORMS]})

    from_: LengthSigned | None = Field(
        None, alias="from", description="Smallest value allowed; stands with to."
    )
    to: LengthSigned | None = Field(None, description="Largest value allowed; stands with from.")
    at_most: LengthSigned | None = Field(
        None, description="Largest value allowed, with no smallest one."
    )
    at_least: LengthSigned | None = Field(
        None, description="Smallest value allowed, with no largest one."
    )
    nominal: LengthSigned | None = Field(
        None, description="Size on the drawing; stands with plus and minus."
    )
    plus: LengthTolerance | None = Field(
        None, description="How far above nominal is allowed, without a sign."
    )
    minus: LengthTolerance | None = Field(
        None, description="How far below nominal is allowed, without a sign."
    )
    source: NotBlank = Field(
        description='Where the limit comes from; "common practice, no source" is an answer.'
    )
    guessed: bool = Field(
        False,
        description="Whether this limit is a guess that only holds the place of the maker's; what "
        "is held to a guess is not released.",
    )

    @property
    def low(self) -> Quantity | None:
        """Smallest value allowed, exact; None where there is none."""
        if self.nominal is not None and self.minus is not None:
            return self._end(self.nominal - self.minus)
        return self._end(self.from_ if self.from_ is not None else self.at_least)

    @property
    def high(self) -> Quantity | None:
        """Largest value allowed, exact; None where there is none."""
        if self.nominal is not None and self.plus is not None:
            return self._end(self.nominal + self.plus)
        return self._end(self.to if self.to is not None else self.at_most)

    def _end(self, end: Quantity | None) -> Quantity | None:
        """An end of the limit, guessed where the limit is."""
        return replace(end, guessed=True) if end is not None and self.guessed else end

    @property
    def told(self) -> str:
        """Where the limit comes from, as sheets and reports say it: of a guess, what to do."""
        return LIMIT_GUESSED if self.guessed else self.source

    @property
    def in_words(self) -> str:
        """The limit in words, its ends as the spec writes them."""
        low, high = (None if end is None else end.text for end in (self.low, self.high))
        return limits_in_words(low, high)

    def held(self) -> Limit:
        """The limit itself, refused where it has none of the forms or its ends cross."""
        given = tuple(
            name
            for form in FORMS
            for name in form
            if getattr(self, "from_" if name == "from" else name) is not None
        )
        if given not in FORMS:
            raise refused("limit-form", " and ".join(given) or "a source alone")
        if (
            self.low is not None
            and self.high is not None
            and self.low.exactly(self.low.unit) >= self.high.exactly(self.low.unit)
        ):
            if self.nominal is not None:
                raise refused("limit-without-width", self.nominal.text)
            raise refused("limit-crossed", self.low.text, self.high.text)
        return self

    _holds = model_validator(mode="after")(held)


class Band(Limit):
    """A limit with two ends, for a size that is aimed at."""

    @property
    def low(self) -> Quantity:
        """Smallest value allowed, exact."""
        return cast("Quantity", super().low)

    @property
    def high(self) -> Quantity:
        """Largest value allowed, exact."""
        return cast("Quantity", super().high)

    @model_validator(mode="after")
    def _has_two_ends(self) -> Band:
        for only in ("at_most", "at_least"):
            if getattr(self, only) is not None:
                raise refused("limit-needs-both", only)
        return self


def limit(source: str, *, low: Quantity | None = None, high: Quantity | None = None) -> Limit:
    """Return a limit that the tool itself derives from a spec, of any dimension, with where it
    comes from; a spec writes limits of lengths.
    """
    ends: dict[str, Any] = {"at_least": low, "at_most": high}
    if low is not None and high is not None:
        ends = {"from_": low, "to": high}
    guessed = any(end is not None and end.guessed for end in (low, high))
    return Limit.model_construct(source=source, guessed=guessed, **ends).held()

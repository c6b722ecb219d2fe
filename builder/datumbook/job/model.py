"""The picture of a job: one block, and the work on it. The descriptions of its fields are the
reference of the job file.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import replace
from typing import Annotated, Any, Literal

from pydantic import AfterValidator, BeforeValidator, ConfigDict, Field, PrivateAttr, WithJsonSchema

from datumbook.messages.refusals import Fault
from datumbook.spec.faults import placed
from datumbook.spec.groups import ReadingGroup
from datumbook.spec.limits import SpecPart
from datumbook.spec.positions import key_lines
from datumbook.spec.values import LengthUnit, NotBlank, refused
from datumbook.standards.order import operations
from datumbook.standards.works import stations, works

LONGEST_NAME = 40
Gauging = Literal["first and danger", "every"]


def _listed(given: Any) -> Any:
    """One word is a list of one; in one text several stand between commas."""
    return [one.strip() for one in given.split(",")] if isinstance(given, str) else given


def _known(words: tuple[str, ...], known: list[str]) -> tuple[str, ...]:
    for word in words:
        if word not in known:
            raise refused("not-one-of", word, ", ".join(known), advice=_nearest(word, known))
    return words


def _nearest(word: str, known: list[str]) -> str:
    from difflib import get_close_matches

    near = get_close_matches(word, known, n=1)
    return f'Did you mean "{near[0]}"?' if near else "Write one of these."


def _work(words: tuple[str, ...]) -> tuple[str, ...]:
    if len(words) != 1 or words[0] not in works():
        _known(words, [*operations(), *works()] if len(words) == 1 else list(operations()))
    return words


def _names(words: tuple[str, ...]) -> tuple[str, ...]:
    return _known(words, [*{**stations(), **operations()}])


def _station(word: str) -> str:
    return _known((word,), list(stations()))[0]


def _name_of_job(text: str) -> str:
    plain = " ".join(text.split())
    if not plain or len(plain) > LONGEST_NAME or not plain.isprintable():
        raise refused("job-name", repr(text))
    return plain


def _list_of(*known: str) -> WithJsonSchema:
    return WithJsonSchema({"type": "array", "items": {"type": "string", "enum": list(known)}})


JobName = Annotated[
    str,
    AfterValidator(_name_of_job),
    Field(json_schema_extra={"minLength": 1, "maxLength": LONGEST_NAME}),
]
OneOrSeveral = Annotated[tuple[str, ...], BeforeValidator(_listed), Field(strict=False)]
Work = Annotated[
    OneOrSeveral,
    AfterValidator(_work),
    WithJsonSchema(
        {
            "anyOf": [
                {"type": "string", "enum": list(works())},
                {"type": "array", "items": {"type": "string", "enum": list(operations())}},
            ]
        }
    ),
]
Names = Annotated[OneOrSeveral, AfterValidator(_names), _list_of(*{**stations(), **operations()})]
Station = Annotated[str, AfterValidator(_station), Field(json_schema_extra={"enum": [*stations()]})]


class LeftAsItIs(SpecPart):
    """A station of the book at which nothing is done."""

    station: Station = Field(description="The station, by its key.")
    reason: NotBlank = Field(description="Why it is left, as the release says it.")
    by: NotBlank = Field(description="Initials of the person who says so.")


class Opened(SpecPart):
    """A group of holes, or one hole, that is not done as drawn."""

    holes: NotBlank = Field(
        description="The group by its key in the spec, or one hole by its name."
    )
    to: NotBlank = Field(description="What it is opened to, by its words on the Threads sheet.")
    drill: str = Field("", description="The drill, by its words there; the best if left out.")
    by: NotBlank = Field(description="Initials of the person who decided it.")


class Job(SpecPart):
    """One block: what it is called, what is done to it, how closely it is measured."""

    model_config = ConfigDict(populate_by_name=True)

    engine: str = Field("", description="Name of the engine, as its spec has it; may be left out.")
    block: JobName = Field("unnamed", description="What the job is called, on every sheet.")
    owner: str = Field("", max_length=200, description="Who brought the block.")
    work: Work = Field(
        ("full",),
        description="What is done: measure, recondition or full; or operations of the order of "
        "work, in a list.",
    )
    also: Names = Field(
        (), alias="with", description="Stations and operations beside the work, by their keys."
    )
    without: Names = Field((), description="Stations and operations of the work that are not done.")
    gauging: Gauging = Field(
        "first and danger",
        description="In which holes depths are wanted: in the first of each group and in every "
        "one that must not break through, or in every hole.",
    )
    twice: tuple[ReadingGroup, ...] = Field(
        (), strict=False, description="Groups of readings that are taken twice."
    )
    units: Mapping[ReadingGroup, LengthUnit] = Field(
        default_factory=dict,
        description="Units of groups of readings where they differ from the spec's.",
    )
    left: tuple[LeftAsItIs, ...] = Field(
        (), strict=False, description="Stations of the book that are left as they are."
    )

    opened: tuple[Opened, ...] = Field(
        (), strict=False, description="Holes that are opened to another thread than drawn."
    )

    def __init__(
        self, block: str = "unnamed", units: Mapping[str, str] | None = None, **more: Any
    ) -> None:
        super().__init__(**{"block": block, "units": units or {}} | more)

    _text: str = PrivateAttr("")
    _name: str = PrivateAttr("")

    def given_as(self, text: str, name: str) -> Job:
        """Return the same job that knows the text and the file it came from."""
        known = self.model_copy()
        known._text, known._name = text, name
        return known

    def placed(self, fault: Fault) -> Fault:
        """A fault of this job put to the file and line it came from, or to the option."""
        return in_job(fault, self._text, self._name)

    @property
    def work_alone(self) -> Job:
        """The same work on no block in particular: what decides the layout of a book."""
        return self.model_copy(update={"block": "unnamed", "owner": "", "left": (), "opened": ()})


def in_job(fault: Fault, text: str, name: str) -> Fault:
    """A fault put to the line of a job's text; without one, to the option of the command line."""
    if name:
        return placed(fault, name, tomllib.loads(text), key_lines(text))
    return replace(fault, file=f"--{fault.path[0]}" if fault.path else "job")

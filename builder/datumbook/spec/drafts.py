"""A spec on its way from the text as given to its full form: what it says by now, where each key of
it was written, and what was found wrong on the way.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from pathlib import Path as FilePath
from types import UnionType
from typing import Any, NamedTuple, get_args

from pydantic import BaseModel

from datumbook.messages.refusals import Fault, fault_at
from datumbook.spec.faults import key_text
from datumbook.spec.positions import Path

Stated = dict[str, Any]


class WrittenAt(NamedTuple):
    """Where a key was written: a file, as it was named, and a line."""

    file: str
    line: int


@dataclass
class Draft:
    """One document of key paths; what is resolved stands on the line it was resolved from."""

    name: str
    folder: FilePath | None
    document: Stated
    spots: dict[Path, WrittenAt]
    faults: list[Fault] = field(default_factory=list)

    @classmethod
    def of(cls, document: Stated, name: str) -> Draft:
        """A draft of a document in its full form, written on no line of any file."""
        return cls(name, None, document, {})

    def refuse(self, path: Path, code: str, found: str = "", expected: str = "", **w: str) -> None:
        """Put down one fault at a key path, in the words of the catalogue."""
        self.put_down(fault_at(path, code, found, expected, **w))

    def put_down(self, fault: Fault) -> None:
        """Put down a fault where it stands by now: later keys may have moved."""
        self.faults.append(self.placed(fault))

    def placed(self, fault: Fault) -> Fault:
        """A fault put to its file and line, its key in the words of the file: the deepest key of
        its path that was written.
        """
        path = fault.path
        while path and path not in self.spots:
            path = path[:-1]
        key = fault.path if fault.code == "missing-key" else path
        spot = self.spots.get(path, WrittenAt(self.name, 0))
        return replace(
            fault, file=spot.file, line=spot.line or None, key=key_text(key, self.document)
        )

    def wrote(self, path: Path) -> bool:
        """Whether this very key stands in a file, and was not supplied for a shorter form."""
        return path in self.spots

    def set(self, path: Path, value: Any) -> None:
        """Put a value to a key; what stood below it was written where the key was."""
        *above, last = path
        self.at(tuple(above))[last] = value
        for below in [one for one in self.spots if one[: len(path)] == path and one != path]:
            del self.spots[below]

    def at(self, path: Path) -> Any:
        """What stands at a key path."""
        here: Any = self.document
        for step in path:
            here = here[step]
        return here

    def beside(self, name: str) -> FilePath | None:
        """A file that stands beside the spec; None where none of that name does or can."""
        if self.folder is None:
            return None
        try:
            found = self.folder / name
            return found if found.is_file() else None
        except (OSError, ValueError):  # no name of a file
            return None

    def entries(self, name: str) -> Iterator[tuple[Path, Stated]]:
        """The tables of a list of the document, each with its path; what is no table is left to
        the model.
        """
        listed = self.document.get(name)
        for at, entry in enumerate(listed if isinstance(listed, list) else ()):
            if isinstance(entry, dict):
                yield (name, at), entry


def parts_of(model: type[BaseModel]) -> Iterator[tuple[str, type[BaseModel]]]:
    """The keys of a model that hold tables, or lists of tables, and the model of these."""
    for name, one in model.model_fields.items():
        if (part := _part_in(one.annotation)) is not None:
            yield one.alias or name, part


def _part_in(annotation: Any) -> type[BaseModel] | None:
    if isinstance(annotation, type) and not isinstance(annotation, UnionType):
        return annotation if issubclass(annotation, BaseModel) else None
    found = (_part_in(one) for one in get_args(annotation))
    return next((one for one in found if one is not None), None)

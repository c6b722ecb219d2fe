"""The states in which a feature is measured: as received, and as finished."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Any

from datumbook.cells.handles import Part
from datumbook.cells.tables import Spoilers
from datumbook.spec import Spec
from datumbook.stations.received.route import Route


@dataclass(frozen=True)
class State:
    """One state: the prefix of its keys and the words behind its titles."""

    prefix: str
    words: str

    def key(self, table: str) -> str:
        """A table's key in this state."""
        return f"{self.prefix}{table}"

    def title(self, words: str) -> str:
        """A table's title in this state."""
        return f"{words}, {self.words}"

    def limits(self, spec: Spec, section: str) -> Any:
        """The section of the spec that holds this state's limits."""
        return getattr(spec, section) if self is RECEIVED else spec.finished

    def stale_after(self, route: Route, feature: str) -> Spoilers | None:
        """What a reading of this state counts only without; what was received moves no more."""
        moved = None if self is RECEIVED else route.spoilers(feature)
        state = route.assembly.state(feature, self.prefix, self.words)
        if state is None:
            return moved
        return replace(moved, state=state) if moved else Spoilers(None, (), state)


RECEIVED = State("", "as received")
FINISHED = State("finished_", "as finished")


def answer(finished: Iterable[Part], received: Iterable[Part]) -> None:
    """Each part as finished knows itself as received, so that its checks answer those there."""
    known = {FINISHED.key(part.key): part for part in received}
    for part in finished:
        part.earlier = known.get(part.key)

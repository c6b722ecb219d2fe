"""A new job file: a few answers, and every other key with what it says beside it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from datumbook.job.scope import described
from datumbook.spec import Spec
from datumbook.standards.order import operations
from datumbook.standards.works import stations, works


@dataclass(frozen=True)
class JobBegun:
    """What is asked of a new job."""

    block: str
    owner: str = ""
    work: str = "recondition"
    also: Sequence[str] = ()


def write_new_job(spec: Spec, answers: JobBegun) -> str:
    """Return the text of a new job file, every key in it."""
    more = [f"{key}: {stations()[key].told}" for key in described(spec)]
    steps = [
        f"{key}: {one.words[:1].lower()}{one.words[1:]}"
        for key, one in operations().items()
        if key not in spec.order.left_out
    ]
    return "\n".join(
        [
            f"# One block, and what is done to it. Engine: {spec.engine.name}.",
            "# `datumbook job check` says what is wrong in this file, and what comes along.",
            "",
            f"engine = {_quoted(spec.engine.name)}",
            f"block = {_quoted(answers.block)}",
            f"owner = {_quoted(answers.owner)}",
            "",
            *_listed("One of these works, or operations in a list:", _works()),
            f"work = {_quoted(answers.work)}",
            "",
            *_listed("Stations that may come beside the work:", more),
            *_listed("Operations of this engine:", steps),
            f"with = [{', '.join(map(_quoted, answers.also))}]",
            "without = []",
            "",
            "# Depths are wanted in the first hole of a group and in every danger hole, or in",
            "# every hole.",
            'gauging = "first and danger"            # or "every"',
            'twice = []                              # groups of readings taken twice: "bores"',
            "",
            "# A station that is left as it is; the release says so, with reason and initials.",
            "# [[left]]",
            '# station = "tunnels"',
            '# reason = "owner\'s wish"',
            '# by = "initials"',
            "",
            "# A group of holes, or one hole by its name, that is not done as drawn.",
            "# [[opened]]",
            '# holes = "the group\'s key in the engine file, or a hole"',
            '# to = "a thread, as the Threads sheet offers it"',
            '# by = "initials"',
            "",
            "# [units]",
            '# bores = "in"                           # where a group is read in another unit',
            "",
        ]
    )


def _works() -> list[str]:
    return [f"{one.key}: {one.words}" for one in works().values()]


def _listed(heading: str, lines: Iterable[str]) -> list[str]:
    return [f"# {heading}", *(f"#   {line}" for line in lines)]


def _quoted(text: str) -> str:
    """A TOML text: its escapes are those of JSON."""
    import json

    return json.dumps(text, ensure_ascii=False)

"""`datumbook demo`: the whole job on a shipped spec: generate, fill in an as-received story with a
few honest problems, validate.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from datumbook.commands.errors import stop, written
from datumbook.commands.outputs import Replace
from datumbook.commands.printing import say, say_styled

if TYPE_CHECKING:
    from datumbook.validator import Validation

ENGINE = "orrindale_qp4"
BLOCK = "SQ-2209"


@dataclass(frozen=True)
class Demo:
    """The files of a demonstration, and what the validator made of the filled book."""

    spec: Path
    empty: Path
    filled: Path
    validation: Validation


def run_demo(folder: Path, engine: str = ENGINE) -> Demo:
    """Write an empty and a filled book of a shipped spec into a folder and validate the filled one.
    Raises OSError.
    """
    from datumbook.carrying import from_csv
    from datumbook.job import Job
    from datumbook.spec import load_spec, shipped_specs
    from datumbook.stations import lay_out
    from datumbook.validator import validate
    from datumbook.writer import write

    spec_path = shipped_specs()[engine]
    layout = lay_out(load_spec(spec_path), Job(BLOCK))
    folder.mkdir(parents=True, exist_ok=True)
    spec = folder / spec_path.name
    spec.write_bytes(spec_path.read_bytes())
    empty, filled = folder / f"{engine}_empty.xlsx", folder / f"{engine}_filled.xlsx"
    write(layout, empty)
    write(layout, filled, from_csv(layout, spec_path.with_suffix(".readings.csv")).typed)
    return Demo(spec, empty, filled, validate(filled))


def demo(
    out: Annotated[Path, typer.Option(help="Folder for the files.")] = Path("datumbook-demo"),
    replace: Replace = False,
) -> None:
    """Run the whole job on a shipped spec: generate, fill, validate, show where the files are."""
    from datumbook.planning import plan, plan_lines
    from datumbook.report import told
    from datumbook.report.page import report_html

    if out.is_dir() and any(out.iterdir()) and not replace:
        stop(f"{out} holds files already; name another folder with --out, or add --replace.")
    report = out / "report.html"
    with written(out, "folder"):
        made = run_demo(out)
        report.write_text(report_html(made.validation), "utf-8")
    say_styled(told(made.validation))
    say("\nWhat may be cut")
    say(*(f"  {line}" for line in plan_lines(plan(made.validation))))
    say(
        "\nThe files",
        f"  {made.spec}  the spec",
        f"  {made.empty}  the empty workbook",
        f"  {made.filled}  the filled workbook",
        f"  {report}  the report",
    )

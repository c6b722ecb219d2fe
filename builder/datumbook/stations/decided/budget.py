"""Budget: one line for each resource of metal, before the spindle starts."""

from __future__ import annotations

from datumbook.cells.basis import Basis
from datumbook.cells.columns import Check, Equation, Given, Result, Sizes, words
from datumbook.cells.handles import Handle, Key
from datumbook.cells.scales import ChartScale
from datumbook.cells.tables import Form, Picture, Row, Series, Sheet, SheetPart, Table
from datumbook.equations import budget
from datumbook.equations.standings import shown_again, worst_said
from datumbook.numbers.printing import NOT_LESS
from datumbook.stations.decided.resources import Resources

BARS = {"taken": "gone so far", "planned": "the plan takes", "to_spare": "still to spare"}
OVERDRAWN = 120.0  # %: where a bar ends that runs past its whole allowance


class MetalBudget:
    """What may still be cut of each resource, and what the plan does to it."""

    def __init__(self, basis: Basis, resources: Resources) -> None:
        self.basis, self.lines = basis, {one.key: one for one in resources.lines}
        self.gathered = [line for one in resources.lines for line in one.gathered]
        self.sizes = Sizes(
            lambda row: basis.unit_of(self.lines[row].group),
            lambda row: basis.decimals_of(self.lines[row].group),
        )
        self.budget = self._budget()
        self.shares = self._shares()

    @property
    def spare(self) -> Handle:
        """What is still to spare of each resource."""
        return self.budget.column("to_spare")

    def unit(self) -> Given:
        """The column with the unit of each line."""
        return words("unit", "in", lambda row: self.basis.unit_of(self.lines[row].group), width=5)

    def to_spare(self, resource: str) -> list[Key]:
        """The cell with what a resource that is held here still has to spare; none where it has no
        line or is held elsewhere.
        """
        one = self.lines.get(resource)
        return [self.spare[resource]] if one and not one.held_by else []

    def sheet(self) -> Sheet | None:
        """The sheet of the metal budget; None where the job has nothing to spare metal of."""
        if not self.lines:
            return None
        below: list[SheetPart] = [self.shares]
        if self.gathered:
            below.append(
                Form(
                    key="extremes",
                    title="Sizes gathered for it: as drawn, as received, after the plan",
                    lines=self.gathered,
                )
            )
        return Sheet(
            name="Budget",
            read=True,
            title="Metal budget",
            parts=[self.budget, self._bars()],
            below=below,
            stage="planned",
        )

    def _budget(self) -> Table:
        sizes, lines = self.sizes, self.lines
        taken = self._either("taken", "gone so far", budget.taken_so_far, budget.grown_so_far)
        plan = self._either("planned", "the plan takes", budget.taken_by_plan, budget.grown_by_plan)
        spare = self._either(
            "to_spare", "still to spare", budget.still_to_spare, budget.still_to_grow
        )
        least = sizes.given("least", NOT_LESS, 0.0)
        held = [key for key, one in lines.items() if not one.held_by]
        return Table(
            key="budget",
            title="What may still be cut, and what the plan does to it",
            heading="Resource",
            note="Read from left to right: what was there, what has gone, what the plan takes, and "
            "what is then still to spare. "
            "Below zero is OUT before the spindle starts; the verdict is that of corner, crown, "
            "land or wall, where there is one.",
            rows=[Row(one.key, one.words) for one in lines.values()],
            columns=(
                self.unit(),
                sizes.result("as_new", "as new", shown_again, value=lambda row: lines[row].as_new),
                sizes.result(
                    "as_received",
                    "as received",
                    shown_again,
                    value=lambda row: lines[row].as_received,
                ),
                *taken,
                sizes.result(
                    "after", "after the plan", shown_again, value=lambda row: lines[row].after
                ),
                *plan,
                sizes.result("limit", "limit", shown_again, value=lambda row: lines[row].limit),
                *spare,
                least,
                Result(
                    name=spare[0].verdict_name,
                    words="verdict",
                    rows=[key for key in lines if key not in held],
                    equation=worst_said,
                    inputs={"verdicts": lambda row: list(lines[row].held_by)},
                ),
                Check(of=spare[0], low=least, source=lambda row: lines[row].source, rows=held),
            ),
        )

    def _shares(self) -> Table:
        """What share of its whole allowance each part of a resource is, for the bars."""
        parts = [self.budget.column(name) for name in BARS]
        return Table(
            key="shares",
            title="Shares of each allowance, as drawn above",
            heading="Resource",
            rows=self.budget.rows,
            columns=[
                Sizes("%", 0).result(
                    f"share_{part.name}",
                    BARS[part.name],
                    budget.share,
                    part=part.__getitem__,
                    parts=lambda row: [one[row] for one in parts],
                )
                for part in parts
            ],
        )

    def _either(
        self, name: str, heading: str, shrinking: Equation, growing: Equation
    ) -> tuple[Result, Result]:
        """A column whose equation depends on whether work makes the resource grow."""
        return (
            self.sizes.result(
                name, heading, shrinking, [key for key, one in self.lines.items() if not one.grows]
            ),
            self.sizes.result(
                name, heading, growing, [key for key, one in self.lines.items() if one.grows]
            ),
        )

    def _bars(self) -> Picture:
        """Each resource as one bar: gone, planned, still to spare."""

        return Picture(
            title="Each allowance: what has gone, what the plan takes, what is left",
            kind="bars",
            series=[
                Series(words, [self.shares.column(f"share_{name}")[key] for key in self.lines])
                for name, words in BARS.items()
            ],
            scale=ChartScale(
                key="share_scale", unit="%", decimals=0, low=0.0, high=OVERDRAWN, rows=0
            ),
            value_words="% of the whole allowance",
            lines=max(12, len(self.lines) + 6),
        )

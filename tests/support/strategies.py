"""Random expressions over a few cells, dimension by dimension, and the numbers that stand in those
cells.

An expression is nested tuples, `(word, *operands)`; `work` calls the words with numbers or with
cells alike. Cells hold sizes in mm or inch, often exactly equal to each other, sometimes negative,
zero or blank.
"""

from __future__ import annotations

import operator
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from functools import cache
from typing import Any

from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st

from case_book import Entry, Question
from datumbook.formulas import functions
from datumbook.formulas.kinds import Area, Length, Ratio, Words
from datumbook.numbers.units import from_coherent, to_coherent

Expression = tuple[Any, ...]
CHOICES = ("dry", "oiled")
COMPARED = ("at_most", "at_least", "less_than", "more_than")
MARKS: dict[str, Callable[..., Any]] = {
    "+": operator.add,
    "-": operator.sub,
    "*": operator.mul,
    "/": operator.truediv,
    "**": operator.pow,
    "abs": abs,
}


@dataclass
class Watch:
    """What was seen while an expression was worked with numbers: how large it grew, and whether the
    last bit counts.
    """

    largest: float = 1.0
    fragile: bool = False

    def see(self, word: str, operands: Sequence[Any], found: Any) -> None:
        """Note one step. Fragile is a step whose branch, or whose error, hangs on the last bits of
        its operands.
        """
        if isinstance(found, float):
            self.largest = max(self.largest, abs(found))
        if word in COMPARED or word == "next_size_up":
            self.fragile |= any(1e-11 < abs(operands[0] - other) < 1e-6 for other in operands[1:])
        if word == "/":
            self.fragile |= abs(operands[1]) < 1e-2 * self.largest and operands[1] != 0
        if word == "square_root":
            self.fragile |= abs(operands[0]) < 1e-6 * self.largest
        if word == "rounded":
            in_steps = abs(functions.in_unit(operands[0], operands[1])) * 10 ** operands[2] % 1
            self.fragile |= 1e-9 < abs(in_steps - 0.5) < 1e-6 or self.largest > 1e4


def work(node: Expression, choice: Any, sizes: Sequence[Any], watch: Watch | None = None) -> Any:
    """Work an expression out over these values, numbers or cells."""
    word, *operands = node
    if word == "cell":
        return sizes[operands[0]]
    if word == "constant":
        return operands[0]
    if word == "equal":
        return functions.equal(choice, operands[0])
    inner = [work(one, choice, sizes, watch) if isinstance(one, tuple) else one for one in operands]
    if watch:
        watch.fragile |= word == "/" and inner[1] == 0 and operands[1][0] != "cell"
    try:
        found = (MARKS.get(word) or getattr(functions, word))(*inner)
    finally:
        if watch and word in {"square_root", "/"}:
            watch.see(word, inner, None)
    if watch:
        watch.see(word, inner, found)
    return found


def cells_in(node: Expression) -> set[int]:
    """Return the numbers of the cells an expression names."""
    word, *operands = node
    if word == "cell":
        return {operands[0]}
    return set().union(*(cells_in(one) for one in operands if isinstance(one, tuple)))


def words_in(node: Expression) -> set[str]:
    """Return the words an expression uses."""
    word, *operands = node
    return {word}.union(*(words_in(one) for one in operands if isinstance(one, tuple)))


@dataclass(frozen=True)
class Example:
    """An expression, what its cells hold, and the kind and unit of its result."""

    expression: Expression
    kind: str
    choice: Entry
    sizes: tuple[Entry, ...]
    gives: str
    watch: Watch = field(default_factory=Watch, compare=False)

    def question(self) -> Question:
        """The expression as an equation over cells."""
        expression = self.expression

        def of_length(choice: Words, *sizes: Length) -> Length:
            return work(expression, choice, sizes)  # type: ignore[no-any-return]

        def of_area(choice: Words, *sizes: Length) -> Area:
            return work(expression, choice, sizes)  # type: ignore[no-any-return]

        def of_ratio(choice: Words, *sizes: Length) -> Ratio:
            return work(expression, choice, sizes)  # type: ignore[no-any-return]

        equation = {"length": of_length, "area": of_area, "ratio": of_ratio}[self.kind]
        return Question(equation, {"choice": self.choice, "sizes": self.sizes}, self.gives)

    def blank(self) -> bool:
        """Say whether a cell that the expression names is blank."""
        return any(self.sizes[cell].value is None for cell in cells_in(self.expression))

    def worked(self) -> float | None:
        """The plain function's number in the unit wanted; None where it is blank, an exception
        where it breaks down.
        """
        if self.blank():
            return None
        sizes = [
            None if one.value is None else to_coherent(float(one.value), one.unit or "")
            for one in self.sizes
        ]
        found = work(self.expression, self.choice.value or "", sizes, self.watch)
        return None if found is None else from_coherent(found, self.gives)

    def sound(self) -> bool:
        """Say whether the two roads may be held to the last digits here."""
        try:
            self.worked()
        except (ZeroDivisionError, ValueError):
            return not self.watch.fragile and not words_in(self.expression) & {
                "where",
                "next_size_up",
            }
        return not self.watch.fragile and self.watch.largest < 1e9


@st.composite
def examples(draw: st.DrawFn) -> Example:
    """An expression over two to six cells."""
    number = draw(st.integers(2, 6))
    sizes = draw(entries(number))
    kind = draw(st.sampled_from(("length", "length", "ratio", "area")))
    unit = draw(st.sampled_from(UNITS_OF[kind]))
    choice = Entry(draw(st.sampled_from((*CHOICES, None))), None)
    expression = draw(EXPRESSIONS[kind](draw(st.integers(2, 3)), number))
    if draw(st.integers(0, 9)) == 0 and kind == "length":
        expression = ("next_size_up", expression, *(("cell", cell) for cell in _rising(sizes)))
    return Example(expression, kind, choice, sizes, unit)


UNITS_OF = {"length": ("mm", "in"), "area": ("mm**2", "in**2"), "ratio": ("", "%")}


def _rising(sizes: Sequence[Entry]) -> list[int]:
    filled = [place for place, one in enumerate(sizes) if one.value is not None]
    return sorted(
        filled,
        key=lambda place: to_coherent(float(sizes[place].value or 0), sizes[place].unit or ""),
    ) or [0]


@st.composite
def entries(draw: st.DrawFn, number: int) -> tuple[Entry, ...]:
    """Sizes in mm or inch: a fresh one, the same size as another in its own unit (an exact tie),
    zero or blank.
    """
    made: list[Entry] = []
    blanks = draw(st.integers(0, 5)) == 0
    for _ in range(number):
        unit = draw(st.sampled_from(("mm", "in")))
        thousandths = draw(st.one_of(st.integers(-9000, 90000), st.sampled_from((0, 1000, 25400))))
        tied = draw(st.booleans())
        if made and tied:
            other = draw(st.sampled_from(made))
            ratio = {("mm", "in"): 25.4, ("in", "mm"): 1 / 25.4}.get((unit, str(other.unit)), 1.0)
            value = None if other.value is None else float(f"{float(other.value) * ratio:.12g}")
        else:
            value = thousandths / 1000
        made.append(Entry(None if blanks and draw(st.integers(0, 3)) == 0 else value, unit))
    return tuple(made)


@cache
def lengths(depth: int, cells: int) -> st.SearchStrategy[Expression]:
    """Expressions that are a length."""
    cell = st.tuples(st.just("cell"), st.integers(0, cells - 1))
    if depth == 0:
        return cell
    one, ratio, area = lengths(depth - 1, cells), ratios(depth - 1, cells), areas(depth - 1, cells)
    return st.one_of(
        st.tuples(st.sampled_from(("+", "-")), one, one),
        st.tuples(st.just("*"), one, ratio),
        st.tuples(st.just("*"), ratio, one),
        st.tuples(st.just("/"), one, ratio),
        st.tuples(st.just("/"), area, one),
        st.tuples(st.just("abs"), one),
        st.tuples(st.sampled_from(("largest", "smallest", "total", "mean")), one, one, one),
        st.builds(
            lambda word, group: (word, *(("cell", place) for place in group)),
            st.sampled_from(("largest", "smallest", "total", "mean")),
            st.just(range(cells)),
        ),
        st.tuples(st.just("square_root"), area),
        st.tuples(st.just("rounded"), one, st.sampled_from(("mm", "in")), st.integers(0, 4)),
        st.tuples(st.just("where"), comparisons(depth - 1, cells), one, one),
        st.tuples(st.just("where"), comparisons(depth - 1, cells), one, one),
    )


@cache
def ratios(depth: int, cells: int) -> st.SearchStrategy[Expression]:
    """Expressions that are a bare number."""
    constant = st.tuples(
        st.just("constant"), st.sampled_from((0.5, 2.0, 3.0, -1.5, 0.649519, 1 / 3, 100.0))
    )
    if depth == 0:
        return constant
    one, length = ratios(depth - 1, cells), lengths(depth - 1, cells)
    return st.one_of(
        st.tuples(st.just("/"), length, length),
        st.tuples(st.sampled_from(("+", "-", "*")), one, one),
        st.tuples(st.just("**"), one, st.tuples(st.just("constant"), st.sampled_from((2.0, 3.0)))),
        st.tuples(st.just("where"), comparisons(depth - 1, cells), one, one),
    )


@cache
def areas(depth: int, cells: int) -> st.SearchStrategy[Expression]:
    """Expressions that are an area."""
    length = lengths(max(0, depth - 1), cells)
    return st.one_of(
        st.tuples(st.just("*"), length, length),
        st.tuples(st.just("**"), length, st.just(("constant", 2.0))),
        st.tuples(st.just("total_of_squares"), length, length),
    )


@cache
def comparisons(depth: int, cells: int) -> st.SearchStrategy[Expression]:
    """Expressions that hold or do not."""
    length = lengths(max(0, depth - 1), cells)
    plain = st.one_of(
        st.tuples(st.sampled_from(COMPARED), length, length),
        st.tuples(st.sampled_from(COMPARED), length, st.just(("constant", 0.0))),
        st.tuples(st.just("equal"), st.sampled_from(CHOICES)),
    )
    return st.one_of(plain, st.tuples(st.sampled_from(("all_of", "any_of")), plain, plain))


EXPRESSIONS = {"length": lengths, "area": areas, "ratio": ratios}


def collected(number: int) -> list[Example]:
    """Return so many examples, the same on every run: they fill one workbook, which no engine has
    to open twice.
    """
    found: list[Example] = []

    @settings(
        max_examples=number,
        phases=[Phase.generate],
        derandomize=True,
        database=None,
        deadline=None,
        suppress_health_check=list(HealthCheck),
    )
    @given(examples().filter(Example.sound))
    def collect(example: Example) -> None:
        found.append(example)

    collect()
    return found

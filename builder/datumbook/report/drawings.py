"""The drawings of the report page: the pictures of the workbook, and each doubtful value against
its limits, as inline SVG.

Drawn from the values worked out anew. A value that is missing leaves a gap; nothing is drawn where
all are missing.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import accumulate, groupby, pairwise, takewhile
from textwrap import wrap

from markupsafe import Markup

from datumbook.cells.tables import STAGES, Picture, Stage
from datumbook.report.canvas import EDGE, HIGH, LETTER, LINE, WIDE, Canvas, Scale, cut_to
from datumbook.report.face_drawings import drawn_face_map
from datumbook.workbook import styles
from datumbook.workbook.layout import Layout
from datumbook.workbook.printed import printer

ALL = 100.0  # per cent
MOST = 1e9  # no size of a block is larger: what is has been mistyped, and is told as that
MARKERS = [
    marker for _, _, marker in styles.SERIES_STYLES
]  # of the first, second, third series of lines
NumbersByKey = Mapping[str, float]  # those that are numbers


@dataclass(frozen=True)
class Drawing:
    """One drawing with its title."""

    title: str
    svg: Markup


def drawings(
    layout: Layout, values: Mapping[str, object], stages: Sequence[Stage] = STAGES
) -> Iterator[Drawing]:
    """Every picture of the workbook that has something to show of these stages, in the order of its
    sheets.
    """
    known = {
        key: value
        for key, value in values.items()
        if isinstance(value, float) and abs(value) < MOST
    }
    for plan in layout.plans.values():
        for _, picture in plan.pictures:
            if _of(picture, layout, stages) and _known(picture, known):
                yield Drawing(
                    ", ".join(filter(None, (picture.title, picture.value_words))),
                    DRAWN_BY_KIND[picture.kind](layout, picture, known),
                )
        for _, face in plan.charts:
            if not face.sketch:
                yield Drawing(face.title, drawn_face_map(face, known))


def _of(picture: Picture, layout: Layout, stages: Sequence[Stage]) -> bool:
    """Whether a picture shows nothing of a later stage."""
    return all(layout.place(key).stage in stages for one in picture.series for key in one.values)


def against_limits(
    value: float, uncertainty: float, ends: tuple[object, object], says: str
) -> Markup | None:
    """A value with the span of its uncertainty, over the zone its limits allow, close up at the
    limit next to it.

    ends: low and high, anything but a number for none; nothing is drawn where there is neither.
    """
    known = [end for end in ends if isinstance(end, float)]
    if not known:
        return None
    nearest = min(known, key=lambda end: abs(value - end))
    reach = 2.0 * max(abs(value - nearest), uncertainty) or 1.0
    if reach > MOST:
        return None
    across = Scale(nearest - reach, nearest + reach, EDGE, WIDE - EDGE)
    canvas, level = Canvas(WIDE, 30, says), 15.0
    shown = [end for end in known if abs(end - nearest) <= reach]
    left, right = (
        across(end) if end in shown else edge
        for end, edge in zip(ends, (EDGE, WIDE - EDGE), strict=True)
    )
    if left < right:  # limits that hang on readings can cross
        canvas.box("zone", left, level - 8, right - left, 16)
    canvas.line("axis", (EDGE, level), (WIDE - EDGE, level))
    for end in shown:
        canvas.line("limit", (across(end), level - 12), (across(end), level + 12))
    span = across(value - uncertainty), across(value + uncertainty)
    canvas.line("span", *((x, level) for x in span))
    for x in span:
        canvas.line("span", (x, level - 4), (x, level + 4))
    canvas.sign("circle", "mark", across(value), level, 4)
    return canvas.svg()


def _row_words(layout: Layout, keys: Sequence[str]) -> list[str]:
    """The words of the rows, without what all of them begin with."""
    words = [layout.place(key).label.partition(" · ")[0].split() for key in keys]
    shared = (
        len(list(takewhile(lambda same: len(set(same)) == 1, zip(*words, strict=False))))
        if len(words) > 1
        else 0
    )
    return [" ".join(one[shared:]) for one in words]


def _in_words(layout: Layout, picture: Picture, values: NumbersByKey) -> str:
    """All that a picture shows, in words."""
    rows = _row_words(layout, picture.series[0].values)
    return f"{picture.title}: " + ", ".join(
        f"{series.words} {row} {_figure(layout, key, values.get(key))}"
        for series in picture.series
        for row, key in zip(rows, series.values, strict=True)
    )


def _figure(layout: Layout, key: str, value: float | None) -> str:
    """A value as it stands in the cell of a key."""
    return "not known" if value is None else printer(layout.place(key)).number(value)


def _known(picture: Picture, values: NumbersByKey) -> list[float]:
    return [values[key] for series in picture.series for key in series.values if key in values]


def _alike(layout: Layout, picture: Picture) -> list[Picture]:
    """The pictures of lines that stand on one sheet: on one scale, so that the worst is seen at a
    glance.
    """
    return next(
        [one for _, one in plan.pictures if one.kind == "lines"]
        for plan in layout.plans.values()
        if any(one is picture for _, one in plan.pictures)
    )


def _lines(layout: Layout, picture: Picture, values: NumbersByKey) -> Markup:
    """Lines from row to row, the rows side by side."""
    canvas = Canvas(WIDE, HIGH, _in_words(layout, picture, values))
    keys, every = (
        picture.series[0].values,
        [value for one in _alike(layout, picture) for value in _known(one, values)],
    )
    low, high = min(every), max(every)
    margin = EDGE + LETTER * max(len(_figure(layout, keys[0], end)) for end in (low, high))
    up, step = Scale(low, high, HIGH - 3.6 * LINE, LINE), (WIDE - margin - EDGE) / len(keys)
    across = [margin + step * (place + 0.5) for place in range(len(keys))]
    for end in dict.fromkeys((low, high)):
        canvas.line("grid", (margin, up(end)), (WIDE - EDGE, up(end)))
        canvas.words(_figure(layout, keys[0], end), margin - 4, up(end) + 4, "end")
    for x, words in zip(across, _row_words(layout, keys), strict=True):
        _wrapped(canvas, words, x, step)
    for place, series in enumerate(picture.series):
        found = zip(across, map(values.get, series.values), strict=True)
        for measured, points in groupby(found, key=lambda point: point[1] is not None):
            whole = [(x, up(value)) for x, value in points if value is not None]
            if measured:
                canvas.line(f"line s{place}", *whole)
            for x, y in whole:
                canvas.sign(MARKERS[place % len(MARKERS)], f"s{place}", x, y)
    _legend(canvas, picture, HIGH - 4)
    return canvas.svg()


def _columns(layout: Layout, picture: Picture, values: NumbersByKey) -> Markup:
    """Columns up and down from zero, each with its figure."""
    canvas = Canvas(WIDE, HIGH, _in_words(layout, picture, values))
    keys, every = picture.series[0].values, [0.0, *_known(picture, values)]
    up = Scale(min(every), max(every) if any(every) else 1.0, HIGH - 4 * LINE, 1.2 * LINE)
    step = (WIDE - 2 * EDGE) / len(keys)
    width = 0.7 * step / len(picture.series)
    for place, series in enumerate(picture.series):
        # figures of neighbours run away from each other, as they are wider than the columns
        at, share = (
            ("middle", 0.5)
            if len(picture.series) == 1
            else ("start", 0.1)
            if place
            else ("end", 0.9)
        )
        for row, key in enumerate(series.values):
            left, value = EDGE + step * (row + 0.15) + width * place, values.get(key)
            if value is not None:
                top, bottom = sorted((up(value), up(0.0)))
                canvas.box(f"bar s{place}", left, top, width, bottom - top)
                beyond, figure = (
                    bottom + LINE - 3 if value < 0 else top - 3,
                    _figure(layout, key, value),
                )
                if LETTER * len(figure) <= step / len(
                    picture.series
                ):  # else it would run into the next
                    canvas.words(figure, left + share * width, beyond, at)
    canvas.line("axis", (EDGE, up(0.0)), (WIDE - EDGE, up(0.0)))
    for row, words in enumerate(_row_words(layout, keys)):
        _wrapped(canvas, words, EDGE + step * (row + 0.5), step)
    if len(picture.series) > 1:
        _legend(canvas, picture, HIGH - 4)
    return canvas.svg()


def _bars(layout: Layout, picture: Picture, values: NumbersByKey) -> Markup:
    """One bar a row, its parts behind each other as shares of the whole."""
    keys = [series.values for series in picture.series]
    rows = [cut_to(words, WIDE / 2) for words in _row_words(layout, keys[0])]
    margin = LETTER * max(map(len, rows)) + EDGE
    canvas = Canvas(WIDE, LINE * (len(rows) + 1.6), _in_words(layout, picture, values))
    shares = [[values.get(key, 0.0) for key in row] for row in zip(*keys, strict=True)]
    along = Scale(0.0, max(ALL, *map(sum, shares)), margin, WIDE - EDGE)
    for row, (words, parts) in enumerate(zip(rows, shares, strict=True)):
        canvas.words(words, margin - 6, LINE * (row + 0.8), "end")
        for place, (left, right) in enumerate(pairwise(map(along, accumulate(parts, initial=0.0)))):
            canvas.box(f"bar s{place}", left, LINE * row + 1.5, right - left, LINE - 3)
    canvas.line("whole", (along(ALL), 0.0), (along(ALL), LINE * len(rows)))
    _legend(canvas, picture, LINE * (len(rows) + 1.2))
    return canvas.svg()


def _legend(canvas: Canvas, picture: Picture, y: float) -> None:
    left = EDGE
    for place, series in enumerate(picture.series):
        shape, style = (
            (MARKERS[place % len(MARKERS)], f"s{place}")
            if picture.kind == "lines"
            else ("square", f"bar s{place}")
        )
        canvas.sign(shape, style, left + 4, y - 4)
        canvas.words(series.words, left + 12, y)
        left += 24 + LETTER * len(series.words)


def _wrapped(canvas: Canvas, words: str, x: float, width: float) -> None:
    """The words under a point or a column, on two lines where one is too short, cut where two
    are.
    """
    for line, said in enumerate(
        wrap(words, max(3, int(width / LETTER)), max_lines=2, placeholder="…")
    ):
        canvas.words(said, x, HIGH - 2.1 * LINE + line * (LINE - 2), "middle")


DRAWN_BY_KIND = {"lines": _lines, "columns": _columns, "bars": _bars}

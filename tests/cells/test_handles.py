"""Handles: a cell is asked for by the column that declares it, and what is asked in vain is told.

Source: the design's own rules; there is no other.
"""

from __future__ import annotations

import pytest

from datumbook.cells.columns import Check, Column, Result, Sizes, limited
from datumbook.cells.handles import DeclarationError
from datumbook.cells.tables import Form, Line, Row, Table
from datumbook.numbers.quantities import read_quantity
from datumbook.spec import limit
from datumbook.workbook.inputs import inputs_of

MM = Sizes("mm", 3)


def mean(thrust: float, axial: float) -> float:
    """An equation that names two columns of its row."""
    return (thrust + axial) / 2


class Diameters(Table):
    """A table as a station declares one."""

    thrust: Column
    axial: Column
    wear: Column | None


def diameters(*more: Column | Check) -> Diameters:
    columns = (MM.reading("thrust", "across"), MM.reading("axial", "along"), *more)
    rows = [Row("1.top", "Cylinder 1, top"), Row("2.top", "Cylinder 2, top")]
    return Diameters(key="bores", title="Bores", rows=rows, columns=columns)


def stock() -> Form:
    return Form(
        key="rebore", title="Next size", lines=[Line(column=MM.given("stock", "Stock", None))]
    )


def test_a_key_is_the_path_of_its_handle() -> None:
    table, form = diameters(), stock()
    assert table.thrust[1, "top"] == table.thrust["1.top"] == "bores.1.top.thrust"
    assert form.column("stock").key == "rebore.stock"
    assert table.thrust.low_end == "bores.thrust.from"


def test_a_misspelt_column_is_told_with_the_nearest_one() -> None:
    with pytest.raises(DeclarationError, match="bores has no thrast in this book; there is thrust"):
        diameters().column("thrast")


def test_a_row_that_is_not_there_is_told() -> None:
    with pytest.raises(DeclarationError, match=r"bores\.thrust has no row 3\.top"):
        diameters().thrust[3, "top"]


def test_a_column_that_a_book_may_lack_is_none_and_one_that_it_must_have_is_an_error() -> None:
    assert diameters().wear is None
    with pytest.raises(DeclarationError, match="rebore has no standard in this book"):
        stock().column("standard")


def test_who_asked_in_vain_is_named_with_the_argument_and_the_equation() -> None:
    result = MM.result("mean", "mean", mean, axial=lambda _: diameters().thrust["9"])
    table = diameters(result)
    with pytest.raises(
        DeclarationError, match=r"bores\.1\.top\.mean asks for `axial` of mean: .*9"
    ):
        inputs_of(result, table, "1.top")


def test_a_parameter_without_an_input_is_the_column_of_its_name_in_the_same_row() -> None:
    result = MM.result("mean", "mean", mean)
    found = inputs_of(result, diameters(result), "2.top")
    assert found == {"thrust": "bores.2.top.thrust", "axial": "bores.2.top.axial"}


def test_a_parameter_that_is_no_column_of_the_table_is_told() -> None:
    result = MM.result("mean", "mean", mean, thrust=read_quantity("1 mm"))
    table = Table(key="lone", title="Lone", rows=[Row("1", "one")], columns=[result])
    with pytest.raises(DeclarationError, match=r"lone\.1\.mean asks for `axial` of mean"):
        inputs_of(result, table, "1")


def test_a_column_of_another_table_stands_for_the_same_row_and_a_line_for_itself() -> None:
    line = stock().column("stock")
    result = MM.result("mean", "mean", mean, thrust=diameters().axial, axial=line)
    table = Table(key="next", title="Next", rows=[Row("1.top", "one")], columns=[result])
    assert inputs_of(result, table, "1.top") == {
        "thrust": "bores.1.top.axial",
        "axial": "rebore.stock",
    }


def test_a_line_asked_for_by_row_and_a_column_asked_for_without_are_told() -> None:
    with pytest.raises(DeclarationError, match=r"rebore\.stock has no row 1"):
        stock().column("stock")["1"]
    with pytest.raises(DeclarationError, match="name the row"):
        _ = diameters().thrust.key


@pytest.mark.parametrize("name", ["extend", "rows", "title"])
def test_a_column_cannot_take_the_name_of_what_a_table_has_already(name: str) -> None:
    with pytest.raises(DeclarationError, match=f"bores cannot call a column {name}"):
        diameters(MM.given(name, "", None))


def test_columns_of_one_name_share_a_handle_and_stand_each_in_its_own_rows() -> None:
    first = MM.result("mean", "mean", mean, ["1.top"])
    second = Result(name="mean", words="mean", equation=mean, rows=["2.top"])
    table = diameters(first, second)
    assert table.column("mean") is first
    assert [first["1.top"], first["2.top"]] == ["bores.1.top.mean", "bores.2.top.mean"]


def test_a_finished_check_answers_the_one_of_its_name_as_received() -> None:
    held = limit("drawing", high=read_quantity("83 mm"))
    received = diameters(*limited(MM.result("mean", "mean", mean), held))
    finished = Diameters(
        key="finished_bores", title="", rows=received.rows, columns=(), earlier=received
    )
    assert list(finished.answered("mean", "1.top")) == ["bores.1.top.mean"]
    assert not list(finished.answered("thrust", "1.top"))
    finished.takes_over("mean", received.thrust)
    finished.takes_over("mean", received.mean["2.top"])
    assert list(finished.answered("mean", "1.top")) == [
        "bores.1.top.thrust",
        "bores.2.top.mean",
        "bores.1.top.mean",
    ]


def test_a_table_is_stale_with_itself_only_where_an_operation_moves_it() -> None:
    assert diameters().stale_with is None
    spoiled = Diameters(key="bores", title="", rows=(), columns=(), spoilers=["route.bore.done"])
    assert spoiled.stale_with is spoiled

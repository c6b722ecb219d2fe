from __future__ import annotations

import random
import re
from pathlib import Path
from typing import Any

import pytest
import xlsxwriter
from hypothesis import given, settings
from hypothesis import strategies as some
from openpyxl.formula.tokenizer import Token as OutsideToken
from openpyxl.formula.tokenizer import Tokenizer

from datumbook.readers.canonical import canonical, references
from datumbook.readers.syntax import UNREADABLE
from datumbook.readers.tokens import tokens
from engines import ironcalc
from sample import FORMULAS

Node = tuple[Any, ...]

SIGNS = ("+", "-", "*", "/", "^", "&", "=", "<", ">", "<=", ">=", "<>")
FUNCTIONS = ("IF", "SUM", "ROUND", "ABS", "COUNT", "LARGE", "STDEV")
SHEETS = ("", "Plan!", "Lands!")

numbers = some.decimals(min_value=0, max_value=9999, places=4).map(
    lambda number: ("number", str(number))
)
words = some.text(alphabet='aB;, "(1', max_size=5).map(lambda text: ("text", text))
cells = some.tuples(
    some.just("cell"), some.sampled_from(SHEETS), some.integers(1, 50), some.integers(1, 999)
)
ranges = some.tuples(some.just("range"), cells, some.integers(1, 50), some.integers(1, 999))
names = some.sampled_from(["bores_1", "plan_size", "oil_clearance"]).map(
    lambda name: ("name", name)
)


def grown(smaller: some.SearchStrategy[Node]) -> some.SearchStrategy[Node]:
    binary = some.tuples(some.just("binary"), some.sampled_from(SIGNS), smaller, smaller)
    call = some.tuples(
        some.just("call"),
        some.sampled_from(FUNCTIONS),
        some.lists(smaller | ranges, min_size=1, max_size=3),
    )
    return binary | call | some.tuples(some.just("minus"), smaller)


formulas = some.recursive(numbers | words | cells | names, grown, max_leaves=10)


class Spelling:
    """Spells a tree; given a chance, with case, blanks, brackets, `$`, prefixes and digits as
    chance has it.
    """

    def __init__(self, chance: random.Random | None = None) -> None:
        self.chance = chance

    def either(self, plain: str, *others: str) -> str:
        return self.chance.choice((plain, *others)) if self.chance else plain

    def spell(self, node: Node) -> str:
        text = getattr(self, node[0])(*node[1:])
        return (
            self.either(text, f"({text})", f" {text} ", f"( {text})")
            if node[0] != "range"
            else text
        )

    def number(self, text: str) -> str:
        digits = re.sub(r"^0\.", ".", text)
        return self.either(
            text, f"0{text}", f"{float(text):.20g}", f"{text}E0", f"{text}e+00", f"{text}00", digits
        )

    def text(self, text: str) -> str:
        return '"' + text.replace('"', '""') + '"'

    def cell(self, sheet: str, column: int, row: int) -> str:
        letters = chr(64 + column) if column <= 26 else "A" + chr(64 + column - 26)
        place = (
            self.either("", "$")
            + self.either(letters, letters.lower())
            + self.either("", "$")
            + str(row)
        )
        prefix = (
            self.either(sheet, sheet.lower(), f"'{sheet[:-1]}'!")
            if sheet
            else self.either("", "Bores!", "'BORES'!")
        )
        return prefix + place

    def range(self, start: Node, column: int, row: int) -> str:
        return self.cell(*start[1:]) + ":" + self.cell("", column, row).rpartition("!")[2]

    def name(self, name: str) -> str:
        return self.either(name, name.upper())

    def binary(self, sign: str, left: Node, right: Node) -> str:
        return f"({self.spell(left)}){self.either(sign, f' {sign} ')}({self.spell(right)})"

    def minus(self, inner: Node) -> str:
        return f"-({self.spell(inner)})"

    def call(self, name: str, arguments: list[Node]) -> str:
        aliases = (
            ("_xlfn.STDEV.S", "stdev.s") if name == "STDEV" else (f"_xlfn.{name}", name.lower())
        )
        written = self.either(name, *aliases)
        comma = self.either(",", " , ")
        return f"{written}({comma.join(self.spell(node) for node in arguments)})"


def changed(node: Node, chance: random.Random) -> Node:
    """Return the tree with one thing changed: an operand, an operator, a constant, a function or a
    reference.
    """
    branches = [place for place, branch in enumerate(node) if isinstance(branch, tuple | list)]
    if branches and chance.random() < 0.7:
        place = chance.choice(branches)
        branch = node[place]
        if isinstance(branch, list):
            which = chance.randrange(len(branch))
            return (
                *node[:place],
                [*branch[:which], changed(branch[which], chance), *branch[which + 1 :]],
                *node[place + 1 :],
            )
        return (*node[:place], changed(branch, chance), *node[place + 1 :])
    return CHANGES[node[0]](node, chance)


def other(value: str, choices: tuple[str, ...], chance: random.Random) -> str:
    return chance.choice([choice for choice in choices if choice != value])


CHANGES = {
    "number": lambda node, _: ("number", f"{float(node[1]) + 0.00001:.5f}"),
    "text": lambda node, chance: (
        "text",
        chance.choice([node[1] + " ", node[1] + "x", node[1].swapcase() + "y"]),
    ),
    "cell": lambda node, chance: chance.choice(
        [
            ("cell", other(node[1], SHEETS, chance), *node[2:]),
            (*node[:2], node[2] + 1, node[3]),
            (*node[:3], node[3] + 1),
        ]
    ),
    "range": lambda node, chance: chance.choice(
        [(*node[:2], node[2] + 1, node[3]), (*node[:3], node[3] + 1)]
    ),
    "name": lambda node, _: ("name", node[1] + "x"),
    "binary": lambda node, chance: ("binary", other(node[1], SIGNS, chance), *node[2:]),
    "minus": lambda node, _: node[1],
    "call": lambda node, chance: ("call", other(node[1], FUNCTIONS, chance), node[2]),
}


@given(formulas, some.integers(0, 2**32))
@settings(deadline=None)
def test_spelling_does_not_matter(tree: Node, seed: int) -> None:
    plain = canonical(Spelling().spell(tree), "Bores")
    assert plain[0] != UNREADABLE
    assert canonical("=" + Spelling(random.Random(seed)).spell(tree), "Bores") == plain


@given(formulas, some.integers(0, 2**32))
@settings(deadline=None)
def test_any_change_of_meaning_is_seen(tree: Node, seed: int) -> None:
    after = changed(tree, random.Random(seed))
    assert canonical(Spelling().spell(after), "Bores") != canonical(Spelling().spell(tree), "Bores")


@given(formulas)
@settings(deadline=None)
def test_the_words_are_those_an_outside_tokenizer_finds(tree: Node) -> None:
    """Outside source: the tokenizer of openpyxl."""
    formula = Spelling().spell(tree)
    outside = [
        token for token in Tokenizer(f"={formula}").items if token.type != OutsideToken.WSPACE
    ]
    ours = tokens(formula)
    written = [word.sheet + word.text + "(" * (word.kind == "function") for word in ours]
    assert "".join(written) == "".join(token.value for token in outside)
    assert [word.text for word in ours if word.kind == "function"] == [
        token.value[:-1]
        for token in outside
        if token.type == OutsideToken.FUNC and token.subtype == OutsideToken.OPEN
    ]
    for kind, subtype in {"number": OutsideToken.NUMBER, "text": OutsideToken.TEXT}.items():
        found = [word.text for word in ours if word.kind == kind]
        assert found == [token.value for token in outside if token.subtype == subtype]


@pytest.mark.parametrize(
    ("one", "other_spelling"),
    [
        ("A1+B1", "=+A1+B1"),
        ("(A1+B1)+C1", "A1+B1+C1"),
        ("TRUE", "true()"),
        ("_xlfn.SINGLE(A1)", "@A1"),
        ("A1", "_xlfn.SINGLE(A1)"),
        ("VAR.S(A1:A2)", "VAR(A1:A2)"),
        ("_xlfn._xlws.SORT(A1:A2)", "SORT(A1:A2)"),
        ("COM.MICROSOFT.CEILING(A1,1)", "CEILING(A1,1)"),
        ("25.4*A1", "25.3999999999999999997*A1"),
        ("'Rob''s gauge'!A1", "'ROB''S GAUGE'!$A$1"),
        ("Bores!A1:Bores!B2", "A1:B2"),
        ("Plan!A1:B2", "Plan!A1:Plan!B2"),
        ("Bores!#REF!", "#REF!"),
        ("SUM(A:A,1:2)", "SUM($A:$A,Bores!$1:$2)"),
    ],
)
def test_spellings_of_one_meaning(one: str, other_spelling: str) -> None:
    assert canonical(one, "Bores") == canonical(other_spelling, "Bores")
    assert canonical(one, "Bores")[0] != UNREADABLE


@pytest.mark.parametrize(
    ("one", "another"),
    [
        ("A1-B1-C1", "A1-(B1-C1)"),
        ("A1+(B1+C1)", "A1+B1+C1"),
        ("-A1^2", "-(A1^2)"),
        ("A1^B1^C1", "A1^(B1^C1)"),
        ('"OK"', '"ok"'),
        ('"1"', "1"),
        ("A1%", "A1"),
        ("A1", "Plan!A1"),
        ("SUM(A1:B2)", "SUM(A1,B2)"),
        ("SUM(A1:B2)", "SUM(A1:B2,)"),
        ("IF(A1,,1)", "IF(A1,1)"),
        ("SUM((A1,B1))", "SUM(A1,B1)"),
        ("A1:B2 B1:B9", "A1:B2"),
        ("{1,2;3,4}", "{1,2,3,4}"),
        ("bores_1", "Plan!bores_1"),
        ("LOG10(A1)", "LOG(A1,10)"),
        ("A1+", "A1"),
        ("#REF!", "#N/A"),
    ],
)
def test_different_meanings(one: str, another: str) -> None:
    assert canonical(one, "Bores") != canonical(another, "Bores")


def test_a_long_formula_is_read_and_compared() -> None:
    long = "+".join(f"A{row}" for row in range(1, 300))
    assert (
        canonical(long, "Bores")
        == canonical(long.lower(), "bores")
        != canonical(f"{long}+1", "Bores")
    )
    assert len(references(long, "Bores")) == 299


def test_a_wide_formula_is_read_whatever_brackets_it_has() -> None:
    wide = f"SUM({','.join(f'(A{row}+B{row})^(2)' for row in range(1, 200))})"
    plain = wide.replace("^(2)", "^2")
    assert canonical(wide, "Bores") == canonical(plain, "Bores")
    assert canonical(wide, "Bores") != canonical(wide.replace("B199", "B198"), "Bores")


def test_a_formula_too_deep_for_anybody_is_equal_to_itself_alone() -> None:
    deep = "+".join(f"A{row}" for row in range(1, 2000))
    assert canonical(deep, "Bores") == ("unreadable", deep)


PRECEDENCE = (
    "-2^2",
    "2^3^2",
    "2^-1",
    "-2^-2",
    "8/4/2",
    "8-4-2",
    "2+3*4^2",
    "50%*4",
    "-50%",
    "2^200%",
    "--3",
    "2*-3^2",
    "1+2=3",
    "+5-+2",
)


def worth(tree: Node) -> float | bool:
    match tree:
        case ("number", value):
            return float(value)
        case ("minus", inner):
            return -worth(inner)
        case ("%", inner):
            return worth(inner) / 100
    left, right = worth(tree[1]), worth(tree[2])
    return {
        "+": left + right,
        "-": left - right,
        "*": left * right,
        "/": left / (right or 1),
        "=": left == right,
        "^": left**right,
    }[tree[0]]


def test_precedence_is_that_of_a_spreadsheet_engine(tmp_path: Path) -> None:
    """Outside source: the engine IronCalc; ECMA-376 part 1, 18.17.2.2 says the same (from
    memory).
    """
    path = tmp_path / "precedence.xlsx"
    book = xlsxwriter.Workbook(path)
    sheet = book.add_worksheet("Bores")
    for row, formula in enumerate(PRECEDENCE):
        sheet.write_formula(row, 0, formula, None, "")
    book.close()
    shown = ironcalc(path)
    for row, formula in enumerate(PRECEDENCE, 1):
        assert worth(canonical(formula, "Bores")) == pytest.approx(shown["Bores", f"A{row}"]), (
            formula
        )


@pytest.mark.parametrize(
    "text",
    [
        "",
        "A1+",
        "(A1",
        "A1)",
        "SUM(A1",
        "1 2 +",
        '"open',
        "{1,2",
        "A1 ? B1",
        "(" * 5000,
        "1" + "+1" * 5000,
    ],
)
def test_what_is_no_formula_equals_only_itself(text: str) -> None:
    assert canonical(text, "Bores") == (UNREADABLE, text)
    assert {canonical(text, "Bores"), canonical("A1", "Bores")} == {
        (UNREADABLE, text),
        ("cell", "bores", 1, 1),
    }


def one_row_inserted(sheet: str, row: int, column: int) -> tuple[str, int, int]:
    return (sheet, row + (sheet == "Bores" and row >= 5), column)


def test_an_expected_formula_is_moved_end_by_end() -> None:
    found = canonical("SUM(A4:A10)+Plan!A5-A6", "Bores")
    assert canonical("SUM(A4:A9)+Plan!A5-A5", "Bores", one_row_inserted) == found


def test_a_reference_that_is_gone() -> None:
    tree = canonical(
        "A1+A2", "Bores", lambda sheet, row, column: None if row == 2 else (sheet, row, column)
    )
    assert tree == ("+", ("cell", "bores", 1, 1), ("gone",))


def test_what_a_formula_reads() -> None:
    assert references("IF(COUNT(A1:B2)=4,Plan!$C$3+bores!D4,bores_1)", "Bores") == {
        ("Bores", 1, 1),
        ("Bores", 1, 2),
        ("Bores", 2, 1),
        ("Bores", 2, 2),
        ("Plan", 3, 3),
        ("Bores", 4, 4),
    }
    assert references("Plan!B2:A1", "Bores") == {
        ("Plan", row, column) for row in (1, 2) for column in (1, 2)
    }
    assert len(references("SUM(A1:XFD1048576)", "Bores")) == 10_000


def test_the_formulas_of_the_sample_are_all_readable() -> None:
    for formula, _ in FORMULAS.values():
        assert canonical(formula, "Bores")[0] != UNREADABLE

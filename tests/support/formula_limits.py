"""What a formula may hold so that every spreadsheet program reads it alike: one rule, one function,
one sentence.

Sources: limits of length, nesting and arguments from Microsoft's page "Excel specifications and
limits"; the other rules from our own measurements of what programs disagree about (DEVELOPERS.md),
so common practice, no source.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache

from openpyxl.formula.tokenizer import Token, Tokenizer, TokenizerError

FUNCTIONS = frozenset(
    (
        "IF",
        "AND",
        "OR",
        "NOT",
        "ABS",
        "MIN",
        "MAX",
        "SUM",
        "AVERAGE",
        "COUNT",
        "COUNTA",
        "ROUND",
        "INT",
        "ROUNDUP",
        "ROUNDDOWN",
        "SQRT",
        "PI",
        "SIN",
        "COS",
        "TAN",
        "ATAN",
        "RADIANS",
        "DEGREES",
        "SUMPRODUCT",
        "SMALL",
        "LARGE",
        "MEDIAN",
        "SLOPE",
        "INTERCEPT",
        "INDEX",
        "MATCH",
        "IFERROR",
        "CHOOSE",
        "COUNTIF",
        "SUMIF",
    )
)
VOLATILE = frozenset(
    ("NOW", "TODAY", "RAND", "RANDBETWEEN", "RANDARRAY", "OFFSET", "INDIRECT", "CELL", "INFO")
)
LONGEST, DEEPEST, MOST_ARGUMENTS, MOST_DIGITS = 8192, 64, 255, 15
TEXT_CONSTANT = re.compile(r'"(?:[^"]|"")*"')
WHOLE_LINE = re.compile(r"\$?[A-Za-z]{1,3}:\$?[A-Za-z]{1,3}|\$?\d+:\$?\d+")
BETWEEN_CELLS = re.compile(r"[A-Za-z0-9_.$!:]+")


@cache
def formula_faults(text: str) -> tuple[str, ...]:
    """Return a sentence for each rule that a formula breaks; the text begins with ``=``.

    >>> formula_faults('=IF(COUNT(A1)=1,ROUND(A1,4),"")')
    ()
    >>> formula_faults("=TODAY()")
    ('uses TODAY, which recalculates by itself',)
    """
    if not text.startswith("="):
        return ("is not a formula: it does not begin with =",)
    try:
        tokens = Tokenizer(text).items
    except (TokenizerError, IndexError):  # it takes a bracket too many from an empty list
        return ("cannot be read: a bracket closes what was not opened",)
    return tuple(fault for rule in RULES for fault in rule(text, tokens))


def length(text: str, _tokens: list[Token]) -> Iterator[str]:
    """At most 8192 characters."""
    if len(text) > LONGEST:
        yield f"has {len(text)} characters, at most {LONGEST} are allowed"


def blanks(text: str, _tokens: list[Token]) -> Iterator[str]:
    """No blank, tab or newline outside text constants: one program reads such a formula as an
    error.
    """
    if re.search(r"\s", TEXT_CONSTANT.sub("", text)):
        yield "has a blank or a newline outside a text constant"


def functions(_text: str, tokens: list[Token]) -> Iterator[str]:
    """Only functions that every program computes alike."""
    used = {token.value[:-1].upper() for token in tokens if opens_function(token)}
    for name in sorted(used - FUNCTIONS):
        yield f"uses {name}, " + (
            "which recalculates by itself" if name in VOLATILE else "which is not portable"
        )


def nesting(_text: str, tokens: list[Token]) -> Iterator[str]:
    """Functions at most 64 deep."""
    depth = deepest = 0
    for token in tokens:
        if token.type == Token.FUNC:
            depth += 1 if token.subtype == Token.OPEN else -1
            deepest = max(deepest, depth)
    if deepest > DEEPEST:
        yield f"nests functions {deepest} deep, at most {DEEPEST} are allowed"


def arguments(_text: str, tokens: list[Token]) -> Iterator[str]:
    """At most 255 arguments to a function."""
    counts: list[int] = []
    for token in tokens:
        if token.subtype == Token.OPEN:
            counts.append(1)
        elif token.type == Token.SEP and counts:
            counts[-1] += 1
        elif token.subtype == Token.CLOSE and counts and (count := counts.pop()) > MOST_ARGUMENTS:
            yield f"gives a function {count} arguments, at most {MOST_ARGUMENTS} are allowed"


def truth(_text: str, tokens: list[Token]) -> Iterator[str]:
    """No TRUE or FALSE: one program counts them as numbers."""
    named = {
        token.value.upper().rstrip("(")
        for token in tokens
        if token.type in (Token.OPERAND, Token.FUNC)
    }
    for word in sorted(named & {"TRUE", "FALSE"}):
        yield f"has {word}: write 1 or 0"


def numbers(_text: str, tokens: list[Token]) -> Iterator[str]:
    """Constants of at most 15 digits, without an exponent."""
    for token in tokens:
        if token.subtype == Token.NUMBER:
            digits = re.sub(r"[eE].*", "", token.value).replace(".", "").strip("0")
            if len(digits) > MOST_DIGITS:
                yield (
                    f"has the constant {token.value} of {len(digits)} digits, at most "
                    f"{MOST_DIGITS} are kept"
                )
            if "e" in token.value.lower():
                yield f"has the constant {token.value}: write it without an exponent"


def powers(_text: str, tokens: list[Token]) -> Iterator[str]:
    """Both operands of ``^`` in brackets, and never two powers in a row: programs group them
    differently.
    """
    neighbours = zip(tokens, tokens[1:], tokens[2:], strict=False)
    for place, (left, token, right) in enumerate(neighbours):
        if token.type == Token.OP_IN and token.value == "^":
            if left.subtype != Token.CLOSE or right.subtype != Token.OPEN:
                yield "has an operand of ^ without brackets"
            elif after_group(tokens, place + 2) == "^":
                yield "has two powers in a row without brackets around the first"


def after_group(tokens: list[Token], opening: int) -> str:
    """Return what stands behind the bracket that closes the one at ``opening``; "" at the end."""
    depth = 0
    for place in range(opening, len(tokens)):
        depth += {Token.OPEN: 1, Token.CLOSE: -1}.get(tokens[place].subtype, 0)
        if depth == 0:
            return tokens[place + 1].value if place + 1 < len(tokens) else ""
    return ""


def signs(_text: str, tokens: list[Token]) -> Iterator[str]:
    """No sign before an operand: ``-2^2`` is 4 in one program and -4 in another."""
    if any(token.type == Token.OP_PRE for token in tokens):
        yield "has a sign before an operand: write 0-x or a product"


def references(_text: str, tokens: list[Token]) -> Iterator[str]:
    """Cells and ranges of this book only: no whole row or column, other file, quoted sheet, lost or
    joined range.
    """
    for token in tokens:
        if token.type == Token.OP_IN and token.value in (",", " "):
            yield "joins or crosses ranges"
        elif token.subtype == Token.RANGE:
            if WHOLE_LINE.fullmatch(token.value.rpartition("!")[2]):
                yield f"refers to the whole row or column {token.value}"
            elif not BETWEEN_CELLS.fullmatch(token.value):
                yield (
                    f"has the reference {token.value}, which is not a plain cell, range or "
                    f"name of this book"
                )


def plain(_text: str, tokens: list[Token]) -> Iterator[str]:
    """No array constants, no error constants, every bracket closed."""
    if any(token.type == Token.ARRAY for token in tokens):
        yield "has an array constant"
    for token in tokens:
        if token.subtype == Token.ERROR:
            yield f"has the error {token.value}"
    subtypes = [token.subtype for token in tokens]
    if subtypes.count(Token.OPEN) != subtypes.count(Token.CLOSE):
        yield "has a bracket that is not closed"


def opens_function(token: Token) -> bool:
    """Return whether a token is a function's name and its opening bracket."""
    return bool(token.type == Token.FUNC and token.subtype == Token.OPEN)


RULES = (
    length,
    blanks,
    functions,
    nesting,
    arguments,
    truth,
    numbers,
    powers,
    signs,
    references,
    plain,
)

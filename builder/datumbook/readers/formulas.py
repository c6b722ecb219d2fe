"""Formulas of other spellings, brought to the one of .xlsx: OpenFormula text, links to
other files.
"""

from __future__ import annotations

import re

from datumbook.effort import spend

ERRORS = ("#DIV/0!", "#N/A", "#NAME?", "#NULL!", "#NUM!", "#REF!", "#VALUE!")
"""The error values that a cell may show."""

LONGEST_FORMULA = 16_384
"""Characters of a formula: twice what programs take, as other spellings are longer (common
practice, no source).
"""

_PREFIX = re.compile(r"(?:of|oooc|msoxl|xlsx):=|^=")
_PREFIXED = re.compile(r"(?:of|oooc|msoxl):")
_OPEN = re.compile(r"""("(?:[^"]|"")*")|\[((?:'(?:[^']|'')*+'|[^\[\]'])*+)\]|([;|~!{}])""")
_QUOTED = r"'(?:[^']|'')*+'"
_END = re.compile(
    rf"(?P<sheet>\$?(?:{_QUOTED}(?:\#\$?(?:{_QUOTED}|[^.':]+))?|[^.':]*+))\.(?P<cell>[^:]*)"
)
REACHING = (
    "DDE|DDEINITIATE|WEBSERVICE|RTD|CALL|REGISTER|REGISTER\\.ID|EXEC|EXECUTE|FOPEN|IMAGE|PY|SQL\\.REQUEST"
    "|STOCKHISTORY|CUBE[A-Z]+|IMPORT(?:DATA|XML|HTML|RANGE|FEED)|GOOGLEFINANCE|EVALUATE|GET\\.[A-Z]+"
)
"""Functions that fetch from elsewhere or call a program."""

_OUTSIDE = {
    sign: re.compile(pattern, re.IGNORECASE)
    for sign, pattern in {
        "[": r"\[\d+\]|\[[^\[\]]*\.(?:xls|ods|csv)|'[^'\[]*\[[^']*'!|\[[^\[\]]+\][\w.]+!",
        ":": "file:|https?:",
        "(": rf"(?<![\w.])(?:_xlfn\.|_xlws\.|com\.microsoft\.)*(?:{REACHING})\(",
        "|": r"[\w.]\|[^|!]*!",
    }.items()
}
"""What draws on something outside, by a sign that stands in it."""

_STEMS = (
    *("[", "|", "FILE:", "HTTP", "DDE", "SERVICE(", "RTD(", "CALL(", "REGISTER", "EXEC", "FOPEN"),
    *("IMAGE(", "PY(", "SQL.", "STOCKH", "CUBE", "IMPORT", "GOOGLEF", "EVALUATE", "GET."),
    "HYPERLINK",
)
"""Letters without one of which no formula draws on anything outside: asked first, for speed."""

_LEADS_AWAY = re.compile(r'(?<![\w.])HYPERLINK\((?!"#)', re.IGNORECASE)
_WORDS = re.compile(r'"(?:[^"]|"")*"')


def from_open_formula(text: str) -> str:
    """Return a formula of .ods as .xlsx spells it, without the leading "=".

    >>> from_open_formula('of:=IF([.B4]>[$Bores.$C$7];SUM([.B4:.C9]);"a;b")')
    'IF(B4>Bores!$C$7,SUM(B4:C9),"a;b")'
    >>> from_open_formula("=IF(B4>Bores!C7;1;2)")
    'IF(B4>Bores!C7,1,2)'
    """
    in_array = False
    signs = _SIGN if _PREFIXED.match(text) or "[." in text else _SIGN_UNBRACKETED

    def spell(match: re.Match[str]) -> str:
        nonlocal in_array
        words, reference, sign = match.groups()
        if words is not None:
            return words
        if reference is not None:
            return _reference(reference)
        in_array = sign == "{" or (in_array and sign != "}")
        return _SIGN_IN_ARRAY[sign] if in_array else signs[sign]

    return _OPEN.sub(spell, _PREFIX.sub("", text, count=1))


_SIGN = {";": ",", "~": ",", "!": " ", "|": ";", "{": "{", "}": "}"}
_SIGN_UNBRACKETED = _SIGN | {"!": "!"}  # some programs write Bores!C7, with no prefix before it
_SIGN_IN_ARRAY = _SIGN | {"!": "!"}


def _reference(text: str) -> str:
    """Return what stands between the square brackets of OpenFormula in the other spelling."""
    ends = [(match["sheet"], match["cell"]) for match in _END.finditer(text)]
    if not ends:
        return "#REF!" if "#REF!" in text else text
    if any("#REF!" in part for end in ends for part in end):
        return "#REF!"
    sheet = _sheet(ends[0][0])
    return (f"{sheet}!" if sheet else "") + ":".join(cell for _, cell in ends)


def _sheet(text: str) -> str:
    if "#" not in text:
        return text.removeprefix("$")
    file, _, sheet = text.removeprefix("$").partition("#")
    return f"'[{file.strip(chr(39))}]{sheet.removeprefix('$').strip(chr(39))}'"


def readable(text: str) -> str:
    """Return the text of a formula; ValueError where it is longer than any spreadsheet program lets
    a person type.
    """
    if len(text) > LONGEST_FORMULA:
        raise ValueError(f"its formula has {len(text)} characters, the limit is {LONGEST_FORMULA}")
    return text


def outside(formula: str) -> str | None:
    """Return the first sign that a formula draws on another file or program, None if it does not.

    >>> outside("[1]Sheet1!A1+2")
    '[1]'
    """
    capitals = formula.upper()
    if not any(stem in capitals for stem in _STEMS):
        return None
    spend(len(formula) // 8, "formulas")
    if "HYPERLINK" in capitals and (away := _LEADS_AWAY.search(formula)):
        return away[0]
    rest = _WORDS.sub('""', formula)
    found = (pattern.search(rest) for sign, pattern in _OUTSIDE.items() if sign in rest)
    return next((match[0] for match in found if match), None)

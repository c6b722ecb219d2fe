"""Texts that are no TOML: what a person most likely did, and what to write instead.

The parser says where it stopped; what is wrong is looked for there, with the texts between
quotation marks set aside.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import NamedTuple

CURLY = re.compile("[“”„‟‘’‚«»]")
QUOTED = re.compile(r'"(?:[^"\\]|\\.)*"|\'[^\']*\'')
KEYED = re.compile(r"\s*([\w.-]+)\s*=\s*(.*)")
INCH_MARK = re.compile(r"([0-9](?: [0-9]+/[0-9]+)?)\"\"")
TRUTH = re.compile(r"(true|false|yes|no|on|off)\s*(?:#.*)?", re.IGNORECASE)
TWICE = ("Cannot overwrite a value", "Cannot declare", "Cannot mutate", "Cannot redefine")


class TomlFault(NamedTuple):
    """What is wrong with a text: the code of its refusal, the line, what was found and what is
    meant.
    """

    code: str
    line: int
    found: str
    expected: str = ""


def toml_fault(text: str, line: int, said: str) -> TomlFault:
    """Return what is wrong with a text that the parser refused at a line, in these words."""
    lines = text.splitlines() or [""]
    at = min(line, len(lines))
    if opened := _open_before(lines, at):
        return opened
    here = lines[at - 1]
    if said.startswith(TWICE):
        return _twice(lines, at)
    for look in LOOKS:
        if found := look(here):
            return TomlFault(found[0], at, *found[1:])
    return TomlFault("not-toml", line, said)


LineLook = Callable[[str], tuple[str, str, str] | None]


def _curly(here: str) -> tuple[str, str, str] | None:
    if found := CURLY.search(here):
        return "curly-quotes", found[0], CURLY.sub('"', here).strip()
    return None


def _inch_mark(here: str) -> tuple[str, str, str] | None:
    if INCH_MARK.search(here):
        return "inch-mark", here.strip(), INCH_MARK.sub(r'\1 in"', here).strip()
    return None


def _backslash(here: str) -> tuple[str, str, str] | None:
    if any(re.search(r'\\[^btnfru"\\]', text) for text in re.findall(r'"[^"]*"', here)):
        return "backslash", here.strip(), here.strip().replace("\\", "/")
    return None


def _unclosed_quote(here: str) -> tuple[str, str, str] | None:
    return ("quote-unclosed", here.strip(), '"') if '"' in QUOTED.sub("", here) else None


def _header(here: str) -> tuple[str, str, str] | None:
    bare = QUOTED.sub("", here).partition("#")[0].strip()
    if re.fullmatch(r"\[{1,2}[^\[\]=]*\]?", bare) and bare.count("[") != bare.count("]"):
        name = bare.strip("[]").strip()
        many = bare.count("[")
        return "header-unclosed", bare, f"{'[' * many}{name}{']' * many}"
    return None


def _comment(here: str) -> tuple[str, str, str] | None:
    bare = QUOTED.sub('""', here).partition("#")[0]
    if found := re.search(r"//|/\*|;|(?:^|\s)--", bare):
        return "comment-mark", found[0].strip(), "#"
    return None


def _colon(here: str) -> tuple[str, str, str] | None:
    if found := re.fullmatch(r"\s*([\w.-]+)\s*:\s*(.*)", here):
        return "colon", here.strip(), f"{found[1]} = {found[2]}"
    return None


def _blank_in_key(here: str) -> tuple[str, str, str] | None:
    if found := re.match(r"\s*([A-Za-z_]\w*(?: +\w+)+)\s*=", here):
        return "key-with-blank", found[1], re.sub(" +", "_", found[1])
    return None


def _truth(here: str) -> tuple[str, str, str] | None:
    keyed = KEYED.fullmatch(here)
    if keyed and (found := TRUTH.fullmatch(keyed[2].strip())):
        meant = found[1].casefold() in ("true", "yes", "on")
        return "true-false", found[1], "true" if meant else "false"
    return None


def _missing_value(here: str) -> tuple[str, str, str] | None:
    keyed = KEYED.fullmatch(here)
    if keyed and not keyed[2].partition("#")[0].strip():
        return "value-missing", keyed[1], f'{keyed[1]} = "..."'
    return None


def _comma(here: str) -> tuple[str, str, str] | None:
    bare = QUOTED.sub('""', here).partition("#")[0]
    if re.search(r'""\s*""|[\]}]\s*[\[{]|""\s*[A-Za-z_]+\s*=', bare):
        return "comma-missing", here.strip(), ","
    return None


def _bare_text(here: str) -> tuple[str, str, str] | None:
    keyed = KEYED.fullmatch(here)
    if keyed and keyed[2][:1] not in ("", '"', "'", "[", "{"):
        value = keyed[2].partition("#")[0].strip().rstrip(",")
        return "quotes-missing", value, f'{keyed[1]} = "{value}"'
    return None


def _no_equals(here: str) -> tuple[str, str, str] | None:
    if found := re.fullmatch(r"\s*([\w.-]+)\s+([\"'\[{].*)", here):
        return "equals-missing", here.strip(), f"{found[1]} = {found[2]}"
    return None


LOOKS: tuple[LineLook, ...] = (
    _curly,
    _inch_mark,
    _backslash,
    _unclosed_quote,
    _header,
    _colon,
    _blank_in_key,
    _truth,
    _missing_value,
    _no_equals,
    _comma,
    _comment,
    _bare_text,
)


def _open_before(lines: list[str], at: int) -> TomlFault | None:
    """An inline table that goes on over the end of its line, or a list that is never closed."""
    opened: list[tuple[str, int]] = []
    for number, line in enumerate(lines[:at], start=1):
        bare = QUOTED.sub("", line).partition("#")[0]
        header = re.fullmatch(r"\s*\[{1,2}[^\[\]]+\]{1,2}\s*", bare)
        if opened and (header or KEYED.match(bare)):
            return _unclosed(lines, opened[0][1])
        for sign in "" if header else bare:
            if sign in "[{":
                opened.append((sign, number))
            elif sign in "]}" and opened:
                opened.pop()
        inline = [where for sign, where in opened if sign == "{"]
        if inline:
            return TomlFault("table-over-lines", inline[0], lines[inline[0] - 1].strip(), "}")
    return _unclosed(lines, opened[0][1]) if opened and at == len(lines) else None


def _unclosed(lines: list[str], first: int) -> TomlFault:
    return TomlFault("list-unclosed", first, lines[first - 1].strip(), "]")


def _twice(lines: list[str], at: int) -> TomlFault:
    """A key or a table that stands already: which, and where it stood first."""
    here = lines[at - 1].strip()
    if here.startswith("["):
        name = here.partition("#")[0].strip()
        before = [n for n, line in enumerate(lines[: at - 1], 1) if line.strip().startswith(name)]
        return TomlFault("key-twice", at, name, str(before[0]) if before else "another line")
    name = here.partition("=")[0].strip()
    for number in range(at - 1, 0, -1):
        if lines[number - 1].strip().startswith("["):
            break
        if re.match(rf"\s*{re.escape(name)}\s*=", lines[number - 1]):
            return TomlFault("key-twice", at, name, str(number))
    return TomlFault("key-twice", at, name, "another line")

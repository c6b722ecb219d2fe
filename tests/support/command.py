"""The command line as a user calls it."""

from __future__ import annotations

from typer.testing import CliRunner, Result

from datumbook.commands.app import app


def run(*words: object, typed: str | None = None) -> Result:
    return CliRunner().invoke(app, [str(word) for word in words], input=typed)

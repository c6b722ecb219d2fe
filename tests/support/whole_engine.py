"""The shipped engine with every further feature there is, and with none of them."""

from __future__ import annotations

from functools import cache
from importlib.resources import files
from string import Template

from datumbook.job import Job
from datumbook.spec import read_spec, shipped_specs
from datumbook.standards.works import stations
from datumbook.stations import lay_out
from datumbook.workbook.layout import Layout
from project import full_form

SHIPPED = shipped_specs()["orrindale_qp4"]
SECTIONS = files("datumbook.spec").joinpath("new_features.toml")


def bare_text() -> str:
    """The shipped spec without its further features, with every operation of the usual order but
    the liners.
    """
    text = full_form("orrindale_qp4").split("# Further features")[0]
    return text.replace('["dry_liners", "cam_tunnel", "tappet_bores"]', '["dry_liners"]')


# a place of the wall of which it is not said where it lies: nothing is won there by a set-over
ANYWHERE = """positions = [
  { key = "thinnest", words = "the thinnest place found", thrust = false },"""


def whole_text() -> str:
    features = Template(SECTIONS.read_text("utf-8")).substitute(
        to_do="invented for the tests", guess='source = "invented for the tests"'
    )
    return bare_text() + features.replace("positions = [", ANYWHERE, 1)


@cache
def whole() -> Layout:
    return lay_out(read_spec(whole_text(), "whole.toml"), Job("whole"))


@cache
def bare() -> Layout:
    return lay_out(read_spec(bare_text(), "bare.toml"), Job("bare"))


@cache
def named() -> Layout:
    """The book of the whole engine with every station that a job may name, but for the state of
    assembly: of that the tests type every answer themselves.
    """
    by_name = [key for key, one in stations().items() if one.by_name and key != "assembly"]
    job = Job.model_validate({"block": "named", "with": by_name})
    return lay_out(read_spec(whole_text(), "whole.toml"), job)

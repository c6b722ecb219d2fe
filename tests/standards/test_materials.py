"""Materials: whole rows with their sources, in the ranges they state, and refused where nothing is
known.
"""

from __future__ import annotations

import pytest

from datumbook.messages.sources import KNOWN
from datumbook.standards.materials import FIGURES, Figure, all_figures, figure

UNITS = {"modulus": "MPa", "poisson": ""} | dict.fromkeys(
    ("expansion", "cold expansion", "hot expansion"), "1/degC"
)


@pytest.mark.parametrize("row", all_figures(), ids=lambda row: f"{row.material} {row.what}")
def test_a_figure_lies_in_its_own_range_and_names_its_source(row: Figure) -> None:
    assert row.what in FIGURES
    assert row.source
    assert row.known in KNOWN
    low, value, high = (one.to(UNITS[row.what]) for one in (row.low, row.value, row.high))
    assert 0 < low <= value <= high
    assert (low == high) or row.conflict or row.known == "reproduced"


@pytest.mark.parametrize(
    ("material", "what", "value", "unit"),
    [
        ("grey iron", "modulus", 14.5e3, "ksi"),  # Shigley, 9th ed., table A-5
        ("grey iron", "poisson", 0.211, ""),  # the same
        ("grey iron", "expansion", 6.0e-6, "1/degF"),  # a table of common materials
        ("grey iron G3000", "expansion", 11.4e-6, "1/degC"),  # Callister table B.6
        ("EN-GJL-250", "modulus", 115, "GPa"),  # material cards of freecad-common
        ("steel", "modulus", 30.0e3, "ksi"),  # Shigley, 9th ed., table A-5
        ("steel 4140", "expansion", 12.3e-6, "1/degC"),  # Callister table B.6
        ("gauge steel", "expansion", 11.5e-6, "1/degC"),  # JCGM 100 H.1
        ("aluminium", "modulus", 10.4e3, "ksi"),  # Shigley, 9th ed., table A-5
        ("aluminium 6061", "expansion", 23.6e-6, "1/degC"),  # Callister table B.6
    ],
)
def test_figures_as_printed(material: str, what: str, value: float, unit: str) -> None:
    assert figure(material, what).value.to(unit) == pytest.approx(value, rel=0.004)


def test_the_sources_disagree_about_grey_iron_and_the_range_says_by_how_much() -> None:
    # Dooley, 1919: 5.56e-6 1/degF; Callister table B.6: 11.4e-6 1/degC
    expansion = figure("grey iron", "expansion")
    assert expansion.low.to("1/degF") == pytest.approx(5.56e-6, rel=1e-3)
    assert expansion.high.to("1/degC") == pytest.approx(11.4e-6)
    assert "Callister" in expansion.conflict


def test_every_metal_of_a_liner_or_block_expands_less_in_the_cold_and_more_in_the_heat() -> None:
    bent = [it.material for it in all_figures() if it.what == "cold expansion"]
    both = [it.material for it in all_figures() if it.what == "expansion"]
    assert set(both) - set(bent) == {"gauge steel"}, "which is measured with at the shop's warmth"
    for metal in bent:
        cold, mean, hot = (
            figure(metal, what).value.to("1/degC")
            for what in ("cold expansion", "expansion", "hot expansion")
        )
        assert mean / 2 < cold < mean < hot, "the liner still shrinks at the far end"


def test_no_figure_stands_twice() -> None:
    names = [(row.material, row.what) for row in all_figures()]
    assert len(names) == len(set(names))


def test_what_the_table_lacks_is_said() -> None:
    with pytest.raises(
        LookupError, match='No modulus is known for "brass": the table holds grey iron, EN-GJL-150'
    ):
        figure("brass", "modulus")
    with pytest.raises(LookupError, match='No poisson is known for "gauge steel"'):
        figure("gauge steel", "poisson")
    with pytest.raises(
        LookupError,
        match='"hardness" is not a figure of a material; ask for modulus, poisson, expansion, cold',
    ):
        figure("grey iron", "hardness")

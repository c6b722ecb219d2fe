"""Fits at the bench: limits as ISO 286-1 gives them, the stress named, and what to write where the
words are not known.
"""

from __future__ import annotations

import pytest

from command import run
from datumbook.calculator import BenchError, explain, work
from datumbook.calculator.fits import is_fit


def test_a_fit_is_explained_by_its_code() -> None:
    card = explain(
        "85 H7/s6"
    )  # the limits as a public package carries them: 85.000-85.035, 85.071-85.093
    assert card.splitlines()[0] == "85 H7/s6: interference"
    assert "85.000 to 85.035 mm" in card
    assert "85.071 to 85.093 mm" in card
    assert "-0.093 mm" in card
    assert "-0.036 mm" in card
    assert "MIND" not in card


def test_a_fit_tighter_than_s6_is_warned_of() -> None:
    # Shigley, 9th ed., table 7-9: the tightest fit usable with cast iron
    assert "MIND: tighter than s6" in explain("90 H7/u6")


def test_a_fit_is_worked_at_both_ends_and_names_its_stress() -> None:
    # by the equation for one material, Shigley eq. 3-57: 100 GPa, rings 104, 86 and 80 mm; p =
    # 60.6354 x interference
    told = work("86 H7/s6", ["parent_ring=104mm", "liner_bore=80mm"])
    pressures = [
        float(line.split()[1]) for line in told.splitlines() if line.strip().startswith("pressure")
    ]
    assert pressures == pytest.approx([60.6354 * 0.036, 60.6354 * 0.093], abs=0.005)
    assert told.count("block, plain hoop stress at the hole") == 2
    assert "tension" in told
    assert "hoop + Poisson x pressure" in told


def test_a_loose_end_presses_nothing() -> None:
    assert "the liner is loose, or only just held" in work(
        "86 H7/k6", ["parent_ring=104mm", "liner_bore=80mm"]
    )


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["wall=4mm"], 'A fit takes parent_ring and liner_bore, not "wall"'),
        (["parent_ring=104mm"], "lacks liner_bore"),
        (["parent_ring=104", "liner_bore=80mm"], "parent_ring: .*no unit"),
        (["parent_ring=84mm", "liner_bore=80mm"], "must rise in this order"),
    ],
)
def test_what_is_wrong_with_an_argument_is_said_with_the_remedy(
    arguments: list[str], said: str
) -> None:
    with pytest.raises(ValueError, match=said):
        work("86 H7/s6", arguments)


def test_an_unknown_code_is_refused_and_an_equation_stays_one() -> None:
    with pytest.raises(ValueError, match='"zc6" is not in the table'):
        explain("86 H7/zc6")
    assert not any(is_fit(text) for text in ("taper", "5/16-24", "1/2 BSW", "M8"))
    with pytest.raises(BenchError, match="no equation called"):
        explain("fit")


def test_the_commands_know_fits() -> None:
    assert "85 H7/s6: interference" in run("explain", "85 H7/s6").output
    worked = run("work", "85 H7/s6")
    assert worked.exit_code == 0
    assert "What a liner of it presses" in worked.output
    assert run("work", "85 H7/zc6").exit_code == 2

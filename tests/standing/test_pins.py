"""What pins hold: by hand, and against the nail withdrawal of the wood handbook."""

from __future__ import annotations

import pytest

from nejime.standing.masses import Body
from nejime.standing.pins import WITHDRAWAL_N, holds_g_cm, wants_splitting


@pytest.mark.source(
    "hand",
    "n = π/4·8²/3.3² = 4.616; bending of a pin 300·1.1³/6 = 66.55 N·mm is less than bearing "
    "25·1.1·5²/4 = 171.9; 4.616·(66.55 + 10·4) = 491.8 N·mm = 5013 g·cm",
)
def test_a_branch_of_a_pencils_thickness() -> None:
    assert holds_g_cm(Body("leafy-branch", 8)) == pytest.approx(5013, abs=5)


@pytest.mark.source(
    "hand", "n = 2.596; 2·1.1·8²/4 = 35.2; 2.596·(35.2 + 0.3·3) = 93.73 N·mm = 955 g·cm"
)
def test_a_soft_stem_of_six_millimetres() -> None:
    assert holds_g_cm(Body("soft-stem", 6)) == pytest.approx(955, abs=2)


@pytest.mark.source(
    "woodhandbook2010", "54.12·G^2.5·D·L with G 0.47, 1.1 mm, 5 mm; a quarter of it"
)
def test_a_pin_in_wood_holds_a_quarter_of_what_a_nail_does() -> None:
    nail = 54.12 * 0.47**2.5 * 1.1 * 5.0
    assert nail == pytest.approx(45.0, abs=0.5)
    assert pytest.approx(nail / 4, rel=0.15) == WITHDRAWAL_N[True]


def test_only_thick_wood_wants_splitting() -> None:
    assert wants_splitting(Body("bare-branch", 12))
    assert not wants_splitting(Body("bare-branch", 8))
    assert not wants_splitting(Body("soft-stem", 14))

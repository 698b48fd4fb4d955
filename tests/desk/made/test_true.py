"""What is said of simulated pieces is true of them: who made them knows how they stand."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from photo.made_up import plan
from photo.photographed import photographed

from nejime.basis.angles import shorter_way
from nejime.forms.stems import Piece, Stem
from nejime.photo.comparing import compared
from nejime.photo.differences import Difference


def made_by_hand(planned: Piece, seed: int, how_far: float) -> Piece:
    """The plan as a beginner's hand has it."""
    chance = np.random.default_rng(seed)

    def stand(stem: Stem) -> Stem:
        lean, turn, share = chance.normal(0.0, how_far, 3) * (10.0, 18.0, 0.06)
        return replace(
            stem,
            stands_deg=float(np.clip(stem.stands_deg + lean, 1.0, 85.0)),
            bearing_deg=float((stem.bearing_deg + turn) % 360.0),
            length_cm=stem.length_cm * float(1.0 + np.clip(share, -0.3, 0.3)),
        )

    return replace(planned, stems=tuple(stand(each) for each in planned.stems))


def is_true(found: Difference | None, truly: float) -> bool:
    """Whether what is said to be off really is, and to that side, but for half the interval."""
    if found is None or not (found.off or found.near):
        return True
    if found.near:
        return abs(truly) <= found.tolerance + found.made.half
    return truly * found.by > 0.0 and abs(truly) >= found.tolerance - 1.5 * found.made.half


@pytest.mark.source("hand", "the differences with which the piece was made")
@pytest.mark.parametrize("seed", range(8))
def test_every_statement_is_true_of_the_piece(seed: int) -> None:
    planned = plan("right" if seed % 2 else "left", "upright" if seed % 3 else "slanting")
    real = made_by_hand(planned, seed, 1.4 if seed % 2 else 0.5)
    found = compared(photographed(real, seed), planned)
    assert not found.mirrored
    turn = found.turn.by_deg if found.turn else 0.0
    share = found.scale.share if found.scale else 1.0
    for each in found.stems:
        stood, meant = real.stem(each.id), planned.stem(each.id)
        turned = shorter_way(stood.bearing_deg - meant.bearing_deg - turn)
        assert is_true(each.lean, stood.stands_deg - meant.stands_deg)
        assert is_true(each.direction, turned)
        assert is_true(each.length, stood.length_cm - share * meant.length_cm)

"""What a teacher is told of a piece: at most three findings, each with what mends it.

Model: `checks` finds, `remedies` tries; here they meet.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from nejime.composing.checks import Finding, findings, shown
from nejime.composing.material import Material
from nejime.composing.remedies import Remedy, remedy
from nejime.composing.seeing import Seat
from nejime.composing.setting import setting
from nejime.forms.stems import Piece


@dataclass(frozen=True, slots=True)
class Advice:
    """One finding as it is shown, with what mends it; None where no change does."""

    finding: Finding
    remedy: Remedy | None


def looked_at(
    piece: Piece,
    material: Mapping[str, Material] | None = None,
    *,
    seat: Seat | None = None,
    allow: frozenset[str] = frozenset(),
    also: frozenset[str] = frozenset(),
) -> tuple[Finding, ...]:
    """Everything found in a piece, the weightiest first, without remedies: for every drag.

    `material` by stem id, the usual one where it is missing. `allow`: what this piece may do, see
    `setting.Setting`. `also`: of `checks.ASKED_FOR`.
    """
    return findings(setting(piece, material, seat=seat, allow=allow), also)


def advice(
    piece: Piece,
    material: Mapping[str, Material] | None = None,
    *,
    seat: Seat | None = None,
    allow: frozenset[str] = frozenset(),
    also: frozenset[str] = frozenset(),
    most: int = 3,
) -> tuple[Advice, ...]:
    """At most `most` findings with their remedies, faults first. Arguments as `looked_at`."""
    here = setting(piece, material, seat=seat, allow=allow)
    return tuple(
        Advice(each, remedy(here, each, also)) for each in shown(findings(here, also), most)
    )

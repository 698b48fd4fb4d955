"""What a teacher is told of a piece: at most three findings, each with what mends it.

Model: `checks` finds, `remedies` tries; here they meet.
"""

from __future__ import annotations

from dataclasses import dataclass

from nejime.composing.checks import Finding, findings, shown
from nejime.composing.remedies import Remedy, remedy
from nejime.composing.setting import Setting

MOST = 3  # [own] more at once is no help


@dataclass(frozen=True, slots=True)
class Advice:
    """One finding as it is shown, with what mends it; None where no change does."""

    finding: Finding
    remedy: Remedy | None


def advice(
    here: Setting, also: frozenset[str] = frozenset(), *, most: int = MOST
) -> tuple[Advice, ...]:
    """At most `most` findings with their remedies, faults first. `also`: of `checks.ASKED_FOR`."""
    every = findings(here, also)
    return tuple(Advice(each, remedy(here, each, every, also)) for each in shown(every, most))

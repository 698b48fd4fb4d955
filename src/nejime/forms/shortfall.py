"""The branch is too short for the proportions: what can be done, and what is lost by it.

Model: each way out is a whole piece, computed again: a smaller size, all three stems scaled to the
branch, another vessel that is at hand. What is lost is the height of the first stem's end.
Source: common practice (a smaller vessel, a smaller piece, or all three shorter).
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, replace

from nejime.basis.errors import InputError
from nejime.basis.sayings import Saying
from nejime.forms.holder import Holder
from nejime.forms.leaning import main_stem
from nejime.forms.piece import piece
from nejime.forms.rules import SIZES, Size
from nejime.forms.stems import Piece, stem_name
from nejime.forms.supporting import with_supporting
from nejime.forms.vessel import Vessel

LEAST_SHARE = 0.5  # [own] a piece scaled to less no longer goes with its vessel
FALLS_SHORT = 0.05  # [practice] what a lesson forgives in a length


@dataclass(frozen=True, slots=True)
class WayOut:
    """One way to use a branch that is too short, and the piece that comes of it."""

    kind: str
    says: Saying
    piece: Piece


def too_short(planned: Piece, stem_id: str, have_cm: float) -> bool:
    """Whether a cut branch of `have_cm` falls short of a stem by more than a lesson forgives."""
    return have_cm < planned.stem(stem_id).cut_cm * (1 - FALLS_SHORT)


def ways_out(
    planned: Piece,
    stem_id: str,
    have_cm: float,
    at_hand: Iterable[tuple[Vessel, Holder | None]] = (),
) -> tuple[WayOut, ...]:
    """What can be done with a branch of `have_cm`, in the order in which a teacher would try it."""
    return tuple(
        way
        for way in (
            _smaller(planned, stem_id, have_cm),
            _scaled(planned, stem_id, have_cm),
            *(_other(planned, stem_id, have_cm, *pair) for pair in at_hand),
        )
        if way is not None
    )


def _lost(planned: Piece, smaller: Piece) -> float:
    return planned.stem("first").height_cm - smaller.stem("first").height_cm


def _again(planned: Piece, vessel: Vessel, held: Holder | None, size: Size) -> Piece:
    """The piece planned again, with all that was asked of it."""
    found = piece(
        vessel,
        planned.rule,
        planned.form.name,
        size=size,
        opens=planned.opens,
        held=held,
        water_cm=planned.water_cm if vessel is planned.vessel else None,
        fuller_third=planned.fuller_third,
        season=planned.season,
    )
    return _supported(found, planned)


def _supported(found: Piece, like: Piece) -> Piece:
    """The piece with as many supporting stems as another."""
    counts = Counter(stem.role for stem in like.stems)
    return with_supporting(
        found, helpers=counts["helper"], hearts=counts["heart"], leaves=counts["leaf"]
    )


def _smaller(planned: Piece, stem_id: str, have_cm: float) -> WayOut | None:
    for size in reversed(SIZES[: SIZES.index(planned.size)]):
        if size not in planned.form.factor:
            continue
        found = _again(planned, planned.vessel, planned.holder, size)
        if not too_short(found, stem_id, have_cm):
            says = Saying("forms.way-out.smaller", size=size, lost_cm=_lost(planned, found))
            return WayOut("smaller piece", says, found)
    return None


def _scaled(planned: Piece, stem_id: str, have_cm: float) -> WayOut | None:
    stem = planned.stem(stem_id)
    extra = stem.cut_cm - stem.length_cm
    share = (have_cm - extra) / stem.length_cm
    if share < LEAST_SHARE or stem_id not in {each.id for each in planned.main}:
        return None
    bare = replace(planned, stems=())
    stems = tuple(main_stem(bare, each.id, each.length_cm * share) for each in planned.main)
    found = _supported(replace(planned, stems=stems), planned)
    says = Saying(
        "forms.way-out.scaled",
        share_percent=100 * share,
        lost_cm=_lost(planned, found),
        first_cm=stems[0].said_cm,
        second_cm=stems[1].said_cm,
        third_cm=stems[2].said_cm,
    )
    return WayOut("all three shorter", says, found)


def _other(
    planned: Piece, stem_id: str, have_cm: float, vessel: Vessel, held: Holder | None
) -> WayOut | None:
    if vessel.size_cm >= planned.vessel.size_cm or vessel.tall != planned.vessel.tall:
        return None
    try:
        found = _again(planned, vessel, held, planned.size)
    except InputError:
        return None
    if too_short(found, stem_id, have_cm):
        return None
    says = Saying(
        "forms.way-out.vessel",
        vessel=vessel.name or Saying(f"vessel.{vessel.shape}"),
        width_cm=vessel.width_cm,
        lost_cm=_lost(planned, found),
        stem=stem_name(stem_id),
    )
    return WayOut("another vessel", says, found)

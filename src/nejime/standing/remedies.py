"""What makes a piece stand: each remedy tried by judging the changed piece again.

Model: a remedy is a changed piece (or other material, or a weight put in), the least change of its
kind that makes it stand. They come in the order in which a teacher would try them: the foot, the
lean, the leaves, the size; then a second and a larger pin holder; then water, another vessel, a
weight. Where nothing makes it stand, those are given that at least better the word.
Putty is named as an extra and never counted.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace

import numpy as np

from nejime.basis.angles import Point, from_the_other_side, heading, line
from nejime.basis.errors import InputError
from nejime.basis.sayings import Saying
from nejime.forms.holder import SIZES_CM, Holder, fits, holder
from nejime.forms.piece import piece
from nejime.forms.placing import place
from nejime.forms.stems import Piece, Stem, stem_name
from nejime.forms.tall import in_vase_cm
from nejime.forms.vessel import Mass, Vessel, weighed
from nejime.standing.levels import Extra
from nejime.standing.loads import Bodied, loads, material
from nejime.standing.masses import Body, parts, stem_kinds, whole_cm
from nejime.standing.verdict import WORDS, Verdict, judge, side

FAR_SIDE = 0.5  # [own] over the holder's half measure
RAISE_STEP_DEG = 2.5  # [own]
THINNED = (1 / 3, 1 / 2)  # [own] a third of the leaves and twigs, then half
LEAFY = ("bare-branch", "leafy-branch", "firm-stem")  # [own] what can be thinned and keeps its look
LEAST_FOLIAGE = 0.2  # [own] thinning less than this is not worth while
SHORTER = tuple(share / 100 for share in range(95, 55, -5))  # [own] of the whole piece
WATER_STEPS = 4  # [own]
PEBBLE_G_CM3 = 2.6  # [memory] common stone; what it displaces of the water is taken off
PEBBLES_G = range(200, 2001, 200)  # [own]


@dataclass(frozen=True, slots=True)
class Remedy:
    """One way to make a piece stand: what to say, the changed piece, and its verdict.

    `verdict` is None for an extra that is not counted.
    """

    kind: str
    says: Saying
    verdict: Verdict | None
    piece: Piece
    known: Mapping[str, Body] = field(default_factory=dict)
    extras: tuple[Extra, ...] = ()

    @property
    def makes_it_stand(self) -> bool:
        """Whether the changed piece was found to stand."""
        return self.verdict is not None and self.verdict.word == "stands"


@dataclass(frozen=True, slots=True)
class _Case:
    """What is to be remedied."""

    piece: Piece
    known: Bodied
    verdict: Verdict
    vessels: tuple[Vessel, ...]
    holders: tuple[Holder, ...]

    def tried(
        self,
        kind: str,
        says: Saying,
        *,
        changed: Piece | None = None,
        known: Bodied | None = None,
        extras: tuple[Extra, ...] = (),
    ) -> Remedy:
        """A remedy with the verdict on the changed piece."""
        one, told = changed or self.piece, self.known if known is None else known
        found = judge(one, told, extras=extras, remarks=False)
        return Remedy(kind, says, found, one, told, extras)

    def leading(self) -> Stem:
        """The stem that pulls most in the direction in which the piece tips."""
        place_cm = (0.0, 0.0)
        if self.verdict.level == "holder":
            place_cm = (self.piece.place.x_cm, self.piece.place.y_cm)
        found = loads(self.piece, self.known, drawn=False)
        arm = (found.place_cm[0] - place_cm) @ np.array(heading(self.verdict.bearing_deg))
        return self.piece.stems[int(np.argmax(found.g[0] * arm))]


def remedies(
    planned: Piece,
    known: Bodied | None = None,
    *,
    at_hand: Sequence[Vessel | Holder] = (),
    verdict: Verdict | None = None,
) -> tuple[Remedy, ...]:
    """What makes a piece stand that does not; nothing for one that stands.

    `at_hand`: other vessels, and the pin holders there are; without any the usual sizes are tried.
    `verdict`: the piece's, where it is known already. Raises `InputError` for a piece without
    stems.
    """
    before = verdict or judge(planned, known, remarks=False)
    if before.word == "stands":
        return ()
    # The same branches in every try, also where nobody told what they are.
    ids = [stem.id for stem in planned.stems]
    told = dict(zip(ids, material(planned, known or {}), strict=True))
    case = _Case(
        planned,
        told,
        before,
        tuple(each for each in at_hand if isinstance(each, Vessel)),
        tuple(each for each in at_hand if isinstance(each, Holder)),
    )
    found = [remedy for kind in _KINDS for remedy in _least(kind(case), before)]
    standing = [remedy for remedy in found if remedy.makes_it_stand]
    return (*(standing or found), *_putty(case))


def _least(tries: Iterator[Remedy], before: Verdict) -> list[Remedy]:
    """The first try that stands; else the best, where its word is better than before."""
    best: Remedy | None = None
    best_verdict = before
    for remedy in tries:
        if remedy.verdict is None or remedy.verdict.better_than <= best_verdict.better_than:
            continue
        best, best_verdict = remedy, remedy.verdict
        if remedy.makes_it_stand:
            break
    gained = WORDS.index(best_verdict.word) < WORDS.index(before.word)
    return [best] if best is not None and gained else []


def _changed(planned: Piece, stems: Iterable[Stem]) -> Piece:
    """The piece with some of its stems replaced by those of the same id."""
    new = {stem.id: stem for stem in stems}
    return replace(planned, stems=tuple(new.get(stem.id, stem) for stem in planned.stems))


def _turn_foot(case: _Case) -> Iterator[Remedy]:
    planned, held = case.piece, case.piece.holder
    if held is None or case.verdict.level != "holder":
        return
    stem = case.leading()
    across, away = heading(stem.bearing_deg)
    step = -FAR_SIDE * held.half_along_cm(across, away)
    x, y = planned.place.x_cm + step * across, planned.place.y_cm + step * away
    moved = Point(x, y, stem.start.z_cm)
    changed = _changed(planned, [replace(stem, start=moved, foot=moved)])
    yield case.tried(
        "turn foot", Saying("standing.remedy.turn-foot", stem=stem_name(stem.id)), changed=changed
    )


def _raise(case: _Case) -> Iterator[Remedy]:
    """A steeper lean, as far as the lesson allows it for this form."""
    stem = case.leading()
    if stem.stands_deg >= 90.0:
        return
    tilt = stem.stands_deg - RAISE_STEP_DEG
    while tilt >= max(stem.tilt.least, 0.0) - 1e-9:
        says = Saying(
            "standing.remedy.raise",
            stem=stem_name(stem.id),
            tilt_deg=tilt,
            before_deg=stem.stands_deg,
        )
        raised = _raised(case.piece, stem, tilt)
        yield case.tried("raise", says, changed=_changed(case.piece, [raised]))
        tilt -= RAISE_STEP_DEG


def _raised(planned: Piece, stem: Stem, tilt_deg: float) -> Stem:
    if planned.holder is not None:
        return replace(stem, stands_deg=tilt_deg)
    inside = in_vase_cm(planned.vessel, tilt_deg, stem.bearing_deg)
    x, y, z = line(tilt_deg, stem.bearing_deg)
    start = stem.start
    foot = Point(start.x_cm - inside * x, start.y_cm - inside * y, start.z_cm - inside * z)
    return replace(stem, stands_deg=tilt_deg, foot=foot, below_cm=inside, bend_deg=0.0)


def _thin(case: _Case) -> Iterator[Remedy]:
    stem = case.leading()
    body = case.known[stem.id]
    if body.kind not in LEAFY or stem_kinds()[body.kind].foliage < LEAST_FOLIAGE:
        return
    for share in THINNED:
        if share <= body.thinned:
            continue
        says = Saying(
            "standing.remedy.thin", stem=stem_name(stem.id), off_percent=round(100 * share, -1)
        )
        yield case.tried("thin", says, known={**case.known, stem.id: replace(body, thinned=share)})


def _shorten(case: _Case) -> Iterator[Remedy]:
    """All stems by the same share, so that the proportions stay."""
    for share in SHORTER:
        changed = replace(
            case.piece, stems=tuple(_shorter(stem, share) for stem in case.piece.stems)
        )
        says = Saying(
            "standing.remedy.shorten",
            left_percent=100 * share,
            first_cm=changed.stems[0].length_cm,
        )
        known = {stem.id: _cut(case.known[stem.id], stem, share) for stem in case.piece.stems}
        yield case.tried("shorten", says, changed=changed, known=known)


def _shorter(stem: Stem, share: float) -> Stem:
    length = stem.length_cm * share
    return replace(
        stem,
        length_cm=length,
        cut_cm=stem.cut_cm - (stem.length_cm - length),
        bow_cm=stem.bow_cm * share,
        length=type(stem.length)(*(each * share for each in stem.length)),
    )


def _cut(body: Body, stem: Stem, share: float) -> Body:
    """The same stem at a share of its length: what was weighed changes, the head stays."""
    if body.weighed_g is None:
        return body
    whole = parts(replace(body, thinned=0.0), whole_cm(stem))
    return replace(body, weighed_g=share * whole.stem.g + whole.head.g)


def _second_holder(case: _Case) -> Iterator[Remedy]:
    """The same pin holder again, upside down on the far edge, its middle over that edge."""
    planned, held = case.piece, case.piece.holder
    if held is None:
        return
    back_deg = from_the_other_side(case.verdict.bearing_deg)
    across, away = heading(back_deg)
    step = held.half_along_cm(across, away)
    x, y = planned.place.x_cm, planned.place.y_cm
    if planned.vessel.to_rim_cm(x, y, back_deg) < 2 * step:
        return
    extra = Extra(held.mass, x + step * across, y + step * away, on_holder=True)
    says = Saying("standing.remedy.second-holder", side=side(back_deg))
    yield case.tried("second holder", says, extras=(extra,))


def _bigger_holder(case: _Case) -> Iterator[Remedy]:
    planned, held = case.piece, case.piece.holder
    if held is None:
        return
    choice = case.holders or tuple(holder(size) for size in SIZES_CM)
    for one in sorted(choice, key=lambda each: each.mass.g):
        if one.mass.g <= held.mass.g or not fits(one, planned.vessel):
            continue
        says = Saying("standing.remedy.bigger-holder", width_cm=max(one.width_cm, one.depth_cm))
        if one.name:
            says = Saying("standing.remedy.bigger-holder-named", name=one.name)
        yield case.tried("bigger holder", says, changed=_on_holder(planned, held, one))


def _on_holder(planned: Piece, before: Holder, held: Holder) -> Piece:
    """The piece on another pin holder: feet at the same share of the way to its edge."""
    where = place(planned.place.wanted, held, planned.vessel)
    wide, deep = held.width_cm / before.width_cm, held.depth_cm / before.depth_cm
    stems = []
    for stem in planned.stems:
        foot = Point(
            where.x_cm + (stem.start.x_cm - planned.place.x_cm) * wide,
            where.y_cm + (stem.start.y_cm - planned.place.y_cm) * deep,
            planned.vessel.base_cm + held.foot_height_cm,
        )
        stems.append(replace(stem, start=foot, foot=foot))
    return replace(planned, holder=held, place=where, stems=tuple(stems))


def _more_water(case: _Case) -> Iterator[Remedy]:
    planned = case.piece
    room = planned.vessel.most_water_cm - planned.water_cm
    if case.verdict.level != "vessel" or room <= 0:
        return
    for step in range(1, WATER_STEPS + 1):
        level = planned.water_cm + room * step / WATER_STEPS
        says = Saying("standing.remedy.water", water_cm=level)
        yield case.tried("more water", says, changed=replace(planned, water_cm=level))


def _other_vessel(case: _Case) -> Iterator[Remedy]:
    for one in case.vessels:
        changed = _in_vessel(case.piece, one)
        if changed is not None:
            name = one.name or Saying(f"vessel.{one.shape}")
            says = Saying(
                "standing.remedy.vessel", vessel=name, first_cm=changed.stems[0].length_cm
            )
            known = {
                old.id: _cut(case.known[old.id], old, new.length_cm / old.length_cm)
                for old, new in zip(case.piece.stems, changed.stems, strict=True)
            }
            yield case.tried("another vessel", says, changed=changed, known=known)


def _in_vessel(planned: Piece, vessel: Vessel) -> Piece | None:
    """The piece again in another vessel of its sort; None where it cannot be made there."""
    if vessel.tall != planned.vessel.tall or vessel == planned.vessel:
        return None
    held = planned.holder if planned.holder and fits(planned.holder, vessel) else None
    try:
        main = piece(
            vessel,
            planned.rule,
            planned.form.name,
            size=planned.size,
            opens=planned.opens,
            held=held,
        )
    except InputError:
        return None
    share = main.stems[0].length_cm / planned.stems[0].length_cm
    step = np.subtract(main.stems[0].start, planned.stems[0].start)
    others = tuple(
        replace(
            _shorter(stem, share),
            start=Point(*(np.add(stem.start, step).tolist())),
            foot=Point(*(np.add(stem.foot, step).tolist())),
        )
        for stem in planned.stems
        if stem.role != "main"
    )
    by_id = {stem.id: stem for stem in (*main.stems, *others)}
    return replace(main, stems=tuple(by_id[stem.id] for stem in planned.stems))


def _weight(case: _Case) -> Iterator[Remedy]:
    if not case.piece.vessel.tall:
        return
    for grams in PEBBLES_G:
        net = weighed(grams * (1.0 - 1.0 / PEBBLE_G_CM3))
        extra = Extra(Mass(net.g, net.spread), 0.0, 0.0, on_holder=False)
        says = Saying("standing.remedy.weight", weight_g=float(grams))
        yield case.tried("weight", says, extras=(extra,))


def _putty(case: _Case) -> tuple[Remedy, ...]:
    if case.piece.holder is None or case.verdict.level != "holder":
        return ()
    return (Remedy("putty", Saying("standing.remedy.putty"), None, case.piece, case.known),)


_KINDS: tuple[Callable[[_Case], Iterator[Remedy]], ...] = (
    _turn_foot,
    _raise,
    _thin,
    _shorten,
    _second_holder,
    _bigger_holder,
    _more_water,
    _other_vessel,
    _weight,
)

"""What mends a finding: the smallest change by hand after which it is gone and nothing is worse.

Model: for each kind of finding a list of changes, the smallest first. Each is made and the whole
piece is checked anew; the first that takes the finding away and adds no other is told. Where none
is so clean, the first that adds no fault. Where every change adds a fault there is no remedy.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from itertools import chain, zip_longest

from nejime.basis.angles import apart, shorter_way
from nejime.basis.sayings import Saying
from nejime.composing import moves
from nejime.composing.checks import Finding, as_taught, findings
from nejime.composing.material import Material
from nejime.composing.moves import Move, moved, told
from nejime.composing.setting import Setting, setting
from nejime.forms.rules import MAIN
from nejime.forms.stems import Piece, base_cm

TURNS_DEG = (10.0, -10.0, 20.0, -20.0, 30.0, -30.0, 45.0, -45.0, 60.0, -60.0, 90.0, -90.0)  # [own]
LEANS_DEG = (-5.0, 5.0, -10.0, 10.0, -15.0, 15.0, -20.0, 20.0, -30.0, 30.0)  # [own]
CUTS = (0.95, 0.9, 0.85, 0.8, 0.75, 0.65, 0.5)  # [own]
FEET = (0.15, 0.3, 0.5)  # [own] of the pin holder's half measure
MORE_LEAVES_DEG = (  # [own] the front first, one leaf first
    *((side,) for side in (180.0, 150.0, 210.0, 120.0, 240.0, 90.0, 270.0)),
    *((150.0, 210.0), (165.0, 225.0), (195.0, 135.0)),
    *((180.0, 120.0, 240.0), (180.0, 135.0, 225.0), (150.0, 210.0, 270.0), (150.0, 210.0, 90.0)),
    *((165.0, 195.0, 120.0, 240.0), (160.0, 200.0, 90.0, 270.0)),
)
BACK_DEG = (345.0, 15.0, 320.0, 40.0, 0.0)  # [own]
FRONT_DEG = (165.0, 195.0, 150.0, 210.0, 135.0, 225.0)  # [own]
FRONT_TILT_DEG = (40.0, 55.0)  # [own]
SHARES = (0.25, 0.4, 0.55)  # [own] of the half measure: how far the pin holder is moved
MOST_TRIED = 40  # [own] changes; each costs one check


@dataclass(frozen=True, slots=True)
class Remedy:
    """A change that was tried: what to do, the piece and its material with it done, and whether it
    leaves no new note either."""

    says: Saying
    move: Move
    piece: Piece
    material: Mapping[str, Material]
    clean: bool


def remedy(
    here: Setting,
    wrong: Finding,
    before: tuple[Finding, ...] | None = None,
    also: frozenset[str] = frozenset(),
) -> Remedy | None:
    """The smallest change that takes a finding away and adds no fault; None where none is known.

    `before`: all findings of the piece, where they are known already.
    """
    before = findings(here, also) if before is None else before
    known = {each.key for each in before}
    faults = {each.key for each in before if each.fault}
    second_best: Remedy | None = None
    for move in _first(_tries(here, wrong), MOST_TRIED):
        piece, material = moved(here.piece, here.material, move)
        after = findings(setting(piece, material, seat=here.seat, allow=here.allow), also)
        left = {each.key for each in after}
        if wrong.key in left or {each.key for each in after if each.fault} - faults:
            continue
        clean = left <= known
        if clean or second_best is None:
            done = Remedy(told(here.piece, move), move, piece, material, clean)
            if clean:
                return done
            second_best = done
    return second_best


def _first(tries: Iterator[Move], most: int) -> Iterator[Move]:
    for _, move in zip(range(most), tries, strict=False):
        yield move


Tries = Iterator[Move]


def _mixed(*lists: Tries) -> Tries:
    """The smallest of each kind of change in turn."""
    together = chain.from_iterable(zip_longest(*lists))
    return (move for move in together if move is not None)


def _turn(stem: str) -> Tries:
    return (Move(stem, turn_deg=by) for by in TURNS_DEG)


def _lean(here: Setting, stem: str) -> Tries:
    stands = here.piece.stem(stem).stands_deg
    most = max(moves.MOST_LEAN_DEG, stands)
    return (Move(stem, lean_deg=by) for by in LEANS_DEG if 0.0 <= stands + by <= most)


def _stand_up(here: Setting, stem: str) -> Tries:
    stands = here.piece.stem(stem).stands_deg
    steps = (2.0, 4.0, 6.0, 9.0, 12.0, 16.0, 20.0, 30.0, 45.0, 60.0, 80.0, 100.0, 120.0, 140.0)
    return (Move(stem, lean_deg=-by) for by in steps if by < stands)


def _cut(stem: str) -> Tries:
    return (Move(stem, cut=to) for to in CUTS)


def _foot(here: Setting, stem: str) -> Tries:
    if here.piece.holder is None:
        return iter(())
    half = min(here.holder_half_cm)
    sides = ((1.0, 0.0), (-1.0, 0.0), (0.0, 1.0), (0.0, -1.0))
    return (
        Move(stem, foot_cm=(share * half * x, share * half * y)) for share in FEET for x, y in sides
    )


def _foot_in(here: Setting, stem: str) -> Tries:
    """The foot brought to the pins, towards their middle."""
    start = here.piece.stem(stem).start
    way = (here.middle_cm[0] - start.x_cm, here.middle_cm[1] - start.y_cm)
    return (
        Move(stem, foot_cm=(float(share * way[0]), float(share * way[1])))
        for share in (0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9)
    )


def _to(here: Setting, stem: str, bearings: tuple[float, ...], tilts: tuple[float, ...]) -> Tries:
    """A stem set to a direction and a lean."""
    now = here.piece.stem(stem)
    for tilt in tilts:
        for bearing in sorted(bearings, key=lambda to: apart(to, now.bearing_deg)):
            turn = shorter_way(bearing - now.bearing_deg)
            yield Move(stem, turn_deg=turn or 0.1, lean_deg=tilt - now.stands_deg or 0.1)


def _gives_way(here: Setting, wrong: Finding) -> Tries:
    """Any change of the later stem, then of the earlier one."""
    each = [
        _mixed(_turn(stem), _lean(here, stem), _cut(stem), _foot(here, stem))
        for stem in reversed(wrong.who)
    ]
    # The later stem for three quarters of the tries.
    return chain(_first(each[0], 28), *each[1:])


def _cut_then(here: Setting, wrong: Finding) -> Tries:
    later, *earlier = reversed(wrong.who)
    return chain(_cut(later), _lean(here, later), *(_cut(stem) for stem in earlier))


def _third(here: Setting, wrong: Finding) -> Tries:
    del wrong
    return chain(
        _first(_mixed(_turn("third"), _cut("third"), _lean(here, "third")), 30),
        _mixed(_turn("second"), _cut("second")),
    )


def _up(here: Setting, wrong: Finding) -> Tries:
    (stem,) = wrong.who
    return chain(_stand_up(here, stem), _cut(stem), _turn(stem))


def _aside(here: Setting, wrong: Finding) -> Tries:
    (stem,) = wrong.who
    return chain(_mixed(_turn(stem), _lean(here, stem)))


def _out_of_water(here: Setting, wrong: Finding) -> Tries:
    (leaf,) = wrong.who
    lifts = (Move(leaf, droop_deg=-by) for by in (5.0, 10.0, 20.0, 30.0, 45.0, 60.0))
    return chain(_mixed(_stand_up(here, leaf), lifts), [Move(leaf, out=True)], _turn(leaf))


def _pins(here: Setting, wrong: Finding) -> Tries:
    """A leaf set steeper in front of the pins, or one to four leaves more; three where none is."""
    del wrong
    if not here.leaves:
        return (Move(leaves=count) for count in (3, 4, 5))
    steeper = (_to(here, leaf.id, (180.0, 150.0, 210.0), (20.0, 35.0)) for leaf in here.leaves)
    leaves = (Move(leaves_deg=sides) for sides in MORE_LEAVES_DEG)
    return chain(
        _first(_mixed(*steeper), 12), leaves, (Move(leaves=count) for count in (1, 2, 3, 4))
    )


def _water(here: Setting, wrong: Finding) -> Tries:
    del wrong
    low = [stem.id for stem in here.piece.stems if stem.role in ("leaf", "helper", "heart")]
    return chain(
        (Move(stem, out=True) for stem in reversed(low)),
        _mixed(*(_stand_up(here, stem.id) for stem in here.lines)),
    )


def _place(here: Setting, wrong: Finding) -> Tries:
    """The pin holder moved to the place that the form wants, or to one side."""
    del wrong
    x, y = (float(at) for at in here.middle_cm)
    to = as_taught(here.piece).place_cm
    if math.dist(to, (x, y)) > 0.1:
        yield Move(holder_cm=(to[0] - x, to[1] - y))
    sides = (-1.0, 1.0)
    for share in SHARES:
        for side in sides:
            for front in (-1.0, 1.0):
                half_x, half_y = here.half_cm
                yield Move(holder_cm=(side * share * half_x - x, front * share * half_y - y))


def _balance(here: Setting, wrong: Finding) -> Tries:
    return chain(_first(_third(here, wrong), 16), _place(here, wrong), _helpers_turn(here))


def _helpers_turn(here: Setting) -> Tries:
    return _mixed(*(_turn(stem.id) for stem in here.lines if stem.role != "main"))


def _forward(here: Setting, wrong: Finding) -> Tries:
    del wrong
    later = [stem.id for stem in reversed(here.lines) if stem.id not in ("first", "second")]
    return _mixed(*(_to(here, stem, FRONT_DEG, FRONT_TILT_DEG) for stem in later))


def _backward(here: Setting, wrong: Finding) -> Tries:
    del wrong
    free = [stem.id for stem in reversed(here.lines) if stem.role == "helper"]
    return _mixed(*(_to(here, stem, BACK_DEG, (20.0, 30.0, 12.0)) for stem in free))


def _depth(here: Setting, wrong: Finding) -> Tries:
    del wrong
    return _mixed(
        *(
            _to(here, stem, (135.0, 225.0, 160.0, 200.0, 315.0, 45.0), (60.0, 45.0))
            for stem in ("third", "second")
        )
    )


def _scale(here: Setting, wrong: Finding) -> Tries:
    """Everything longer or shorter, to what the form teaches or next to it."""
    del wrong
    piece = here.piece
    base = base_cm(piece.rule, piece.vessel)
    now = here.main_cm / base
    taught = piece.form.factor[piece.size]
    for factor in sorted({taught, 1.0, 1.5, 2.0, 2.5}, key=lambda to: abs(to - taught)):
        yield Move(grow=factor / now)
    if now > taught:
        yield Move("first", cut=taught / now)


def _narrower(here: Setting, wrong: Finding) -> Tries:
    del wrong
    across = sorted(here.lines, key=lambda stem: -abs(stem.end.x_cm))
    return chain(_mixed(*(_stand_up(here, stem.id) for stem in across[:2])), _scale(here, _ANY))


def _firmer(here: Setting, wrong: Finding) -> Tries:
    """What overhangs most stands up, is cut, or its foot goes to the other side of the pins."""
    del wrong
    out = sorted(
        here.lines,
        key=lambda s: -math.dist((s.end.x_cm, s.end.y_cm), here.middle_cm) * s.length_cm,
    )
    heavy = [stem.id for stem in out[:3]]
    each = [_mixed(_stand_up(here, stem), _cut(stem)) for stem in heavy]
    return chain(_mixed(*each), _scale(here, _ANY))


def _fewer(here: Setting, wrong: Finding) -> Tries:
    free = [stem for stem in reversed(wrong.who) if stem not in MAIN]
    del here
    return (Move(stem, out=True) for stem in free)


def _together(here: Setting, wrong: Finding) -> Tries:
    del wrong
    return _mixed(*(_foot_in(here, stem.id) for stem in here.lines))


def _inwards(here: Setting, wrong: Finding) -> Tries:
    return _foot_in(here, wrong.who[0])


def _apart(here: Setting, wrong: Finding) -> Tries:
    return _foot(here, wrong.who[-1])


_ANY = Finding("tall", ("first",), False, 1.0, Saying("composing.tall"))
_FOR: Mapping[str, Callable[[Setting, Finding], Tries]] = {
    "tips": _firmer,
    "rim": _up,
    "off-pins": _inwards,
    "in-water": _up,
    "leaf-in-water": _out_of_water,
    "holder-shows": _pins,
    "holder-bare": _pins,
    "holder-aside": _pins,
    "cross": _gives_way,
    "window": _gives_way,
    "rails": _gives_way,
    "front-rails": _gives_way,
    "palms": _gives_way,
    "level": _cut_then,
    "helper-long": _cut_then,
    "helper-equal": _cut_then,
    "crowded": _apart,
    "stabs": _aside,
    "down": _up,
    "stares": _aside,
    "flower-hidden": _gives_way,
    "leaf-hides": _gives_way,
    "flat": _depth,
    "triangle-flat": _third,
    "triangle-equal": _third,
    "triangle-alike": _third,
    "symmetric": _balance,
    "centred": _balance,
    "one-side": _balance,
    "spread-wide": _third,
    "spread-narrow": _third,
    "no-front": _forward,
    "no-back": _backward,
    "holder-middle": _place,
    "holder-place": _place,
    "water-hidden": _water,
    "small": _scale,
    "tall": _scale,
    "wide": _narrower,
    "loose-feet": _together,
    "even": _fewer,
    "equal-counts": _fewer,
    "herb-between-trees": _gives_way,
    "colour-both-sides": _gives_way,
}


def _tries(here: Setting, wrong: Finding) -> Tries:
    return _FOR[wrong.code](here, wrong)

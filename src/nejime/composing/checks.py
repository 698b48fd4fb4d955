"""Every check of a piece, as findings.

Model: a measure says by how much a stem, a pair or the whole oversteps a limit; what is above 0 is
a finding, what is above the check's second limit a fault. A finding of main stems that stand as
the form teaches is left out: proportions are no fault.
Source: see the measures.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass

import numpy as np

from nejime.basis.angles import apart
from nejime.basis.errors import InputError
from nejime.basis.sayings import Saying
from nejime.composing import alone, between, whole
from nejime.composing.lines import Array, Stems
from nejime.composing.setting import Setting
from nejime.forms.piece import piece as textbook
from nejime.forms.rules import BEARING_TOLERANCE_DEG, LENGTH_TOLERANCE, MAIN, TILT_TOLERANCE_DEG
from nejime.forms.stems import Piece

LONGER = 0.95  # [practice] a helper stem is shorter than the stem that it follows
SAME_CUT = 0.05  # [practice] helper stems are cut at varying lengths; the margin is ours
NEVER = 1e9  # [own] no excess makes a fault of this
HERB_ORDER, SAME_COUNT, COLOUR = "herb-between-trees", "equal-counts", "colour-both-sides"
ASKED_FOR = (HERB_ORDER, SAME_COUNT, COLOUR)
"""Checks of old lists that are made only where the teacher asks for them."""


@dataclass(frozen=True, slots=True)
class Kind:
    """One kind of finding: above `fault_above` it is a fault; `weight` orders what is shown."""

    fault_above: float
    weight: float
    physical: bool = False


_FAULT, _NOTE = -1.0, NEVER
KINDS: Mapping[str, Kind] = {  # [own] the order in which they are shown
    "tips": Kind(whole.SURE - whole.FIRM, 10.0, physical=True),
    "rim": Kind(_FAULT, 9.5, physical=True),
    "off-pins": Kind(_FAULT, 9.0, physical=True),
    "in-water": Kind(_FAULT, 8.5, physical=True),
    "leaf-in-water": Kind(_FAULT, 8.0, physical=True),
    "holder-shows": Kind(whole.SHOWS_BADLY, 7.5, physical=True),
    "cross": Kind(1.5, 7.0),
    "stabs": Kind(_FAULT, 6.8),
    "down": Kind(_FAULT, 6.6),
    "palms": Kind(_FAULT, 6.4),
    "flat": Kind(_FAULT, 6.2),
    "triangle-flat": Kind(_FAULT, 6.0),
    "triangle-equal": Kind(_FAULT, 5.8),
    "symmetric": Kind(_FAULT, 5.6),
    "helper-long": Kind(_FAULT, 5.4),
    "water-hidden": Kind(0.2, 5.0),
    "stares": Kind(_NOTE, 4.8),
    "flower-hidden": Kind(_NOTE, 4.6),
    "leaf-hides": Kind(_NOTE, 4.5),
    "one-side": Kind(_NOTE, 4.4),
    "spread-wide": Kind(_NOTE, 4.2),
    "spread-narrow": Kind(_NOTE, 4.1),
    "no-front": Kind(_NOTE, 4.0),
    "no-back": Kind(_NOTE, 3.9),
    "holder-middle": Kind(_NOTE, 3.8),
    "holder-place": Kind(_NOTE, 3.7),
    "centred": Kind(_NOTE, 3.6),
    "holder-bare": Kind(_NOTE, 3.55, physical=True),
    "holder-aside": Kind(_NOTE, 3.5, physical=True),
    "rails": Kind(_NOTE, 3.4),
    "front-rails": Kind(_NOTE, 3.2),
    "level": Kind(_NOTE, 3.0),
    "triangle-alike": Kind(_NOTE, 2.8),
    "helper-equal": Kind(_NOTE, 2.6),
    "window": Kind(_NOTE, 2.4),
    "small": Kind(_NOTE, 2.2),
    "tall": Kind(_NOTE, 2.1),
    "wide": Kind(_NOTE, 2.0),
    "crowded": Kind(_NOTE, 1.8, physical=True),
    "loose-feet": Kind(_NOTE, 1.6),
    "herb-between-trees": Kind(_NOTE, 1.2),
    "colour-both-sides": Kind(_NOTE, 1.1),
    "equal-counts": Kind(_NOTE, 1.0),
    "even": Kind(_NOTE, 0.5),
}

Pair = Callable[[Setting, Stems, Stems], Array]
Single = Callable[[Setting, Stems], Array]
PAIRS: Mapping[str, Pair] = {
    "cross": between.crosses,
    "window": between.window,
    "rails": between.rails,
    "front-rails": between.front_rails,
    "palms": between.palms,
    "level": between.level,
    "crowded": between.crowded,
}
SINGLES: Mapping[str, Single] = {
    "rim": alone.below_rim,
    "off-pins": alone.off_pins,
    "in-water": alone.in_water,
    "stabs": alone.stabs,
    "down": alone.down,
    "stares": alone.stares,
}
QUIET = frozenset({"even", "equal-counts", "herb-between-trees", "colour-both-sides"})


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing found. `who`: the stems' ids, the one that should give way last; the main stems
    for their outline; empty for the whole. `excess`: by how much, in shares of the limit.
    """

    code: str
    who: tuple[str, ...]
    fault: bool
    excess: float
    says: Saying

    @property
    def weight(self) -> float:
        """What is shown first."""
        return KINDS[self.code].weight

    @property
    def quiet(self) -> bool:
        """Whether it is said only where nothing else is."""
        return self.code in QUIET

    @property
    def key(self) -> tuple[str, tuple[str, ...]]:
        """The same finding after something was changed."""
        return self.code, tuple(sorted(self.who))


def findings(here: Setting, also: frozenset[str] = frozenset()) -> tuple[Finding, ...]:
    """Everything found in a piece, faults first, the weightiest first.

    `also`: of `ASKED_FOR`, what the teacher wants looked at, too.
    """
    taught = as_taught(here.piece)
    found = [
        each
        for each in _all(here, taught.place_cm, also)
        if KINDS[each.code].physical or not taught.excuses(each)
    ]
    return tuple(sorted(found, key=lambda each: (not each.fault, -each.weight, each.who)))


def shown(found: Iterable[Finding], most: int = 3) -> tuple[Finding, ...]:
    """At most `most` findings, faults first; a note about a stem of a shown fault is left out, and
    quiet notes are said only where there is nothing else."""
    chosen: list[Finding] = []
    busy: set[str] = set()
    loud = [each for each in found if not each.quiet]
    for each in loud or list(found):
        if len(chosen) == most:
            break
        if each.fault or not busy & set(each.who):
            chosen.append(each)
        if each.fault:
            busy |= set(each.who)
    return tuple(chosen)


@dataclass(frozen=True, slots=True)
class Taught:
    """Which main stems, and whether the pin holder, are as the form teaches."""

    stems: frozenset[str]
    place: bool
    place_cm: tuple[float, float]

    def excuses(self, found: Finding) -> bool:
        """Whether a finding is only of what the form teaches."""
        if found.code in ("holder-middle", "holder-place"):
            return self.place
        if found.code in ("centred", "symmetric", "one-side"):
            return self.place and self.stems.issuperset(MAIN)
        return bool(found.who) and self.stems.issuperset(found.who)


def as_taught(piece: Piece) -> Taught:
    """What of a piece is within the tolerance of the form's own numbers in this vessel."""
    try:
        model = textbook(
            piece.vessel,
            piece.rule,
            piece.form.name,
            size=piece.size,
            opens=piece.opens,
            held=piece.holder,
            water_cm=piece.water_cm,
            fuller_third=piece.fuller_third,
            season=piece.season,
        )
    except InputError:  # the pin holder does not lie flat: nothing to compare with
        return Taught(frozenset(), False, (piece.place.x_cm, piece.place.y_cm))
    near = {
        stem.id
        for stem, aim in zip(piece.main, model.main, strict=True)
        if abs(stem.length_cm / aim.length_cm - 1.0) <= LENGTH_TOLERANCE + 1e-9
        and (
            abs(stem.stands_deg - aim.stands_deg) <= TILT_TOLERANCE_DEG + 1e-9
            or aim.tilt.least <= stem.stands_deg <= aim.tilt.most
        )
        and (
            apart(stem.bearing_deg, aim.bearing_deg) <= BEARING_TOLERANCE_DEG + 1e-9
            or stem.stands_deg < 1.0
        )
    }
    place = (model.place.x_cm, model.place.y_cm)
    moved = max(abs(place[0] - piece.place.x_cm), abs(place[1] - piece.place.y_cm))
    return Taught(frozenset(near), moved < whole.PLACE_OFF * piece.vessel.width_cm / 2, place)


def _all(here: Setting, taught_cm: tuple[float, float], also: frozenset[str]) -> Iterator[Finding]:
    yield from _pairs(here)
    yield from _singles(here)
    yield from _flowers(here)
    yield from _helpers(here)
    yield from _outline(here)
    yield from _foot(here, taught_cm)
    yield from _counted(here, also)


def found(
    code: str, who: tuple[str, ...], excess: float, /, **quantities: object
) -> Iterator[Finding]:
    """The finding of a measure, where it is one."""
    if excess > 0:
        fault = excess > KINDS[code].fault_above
        says = Saying(f"composing.{code}", **quantities)
        yield Finding(code, who, fault, float(excess), says)


def names(here: Setting, who: Iterable[str]) -> dict[str, Saying]:
    """The stems of a sentence."""
    keys = ("stem", "other")
    return {key: here.called(each) for key, each in zip(keys, who, strict=False)}


def _pairs(here: Setting) -> Iterator[Finding]:
    one, other = here.pairs
    if not len(one):
        return
    bundles = here.stems.take(one), here.stems.take(other)
    mains = (here.rank[one] <= 2) & (here.rank[other] <= 2)
    grass = here.grass[one] & here.grass[other]
    skipped = {"cross": grass, "window": grass, "level": mains}
    for code, measure in PAIRS.items():
        excess = measure(here, *bundles)
        if code in skipped:
            excess = np.where(skipped[code], -1.0, excess)
        for at in np.flatnonzero(excess > 0):
            who = _giving_way(here, int(one[at]), int(other[at]))
            said: dict[str, object] = dict(names(here, reversed(who)))
            if code == "cross":
                said |= {"up_cm": _crossing_cm(here, who)}
            yield from found(code, who, float(excess[at]), **said)


def _giving_way(here: Setting, one: int, other: int) -> tuple[str, ...]:
    keep, give = (one, other) if here.rank[other] >= here.rank[one] else (other, one)
    return here.lines[keep].id, here.lines[give].id


def _crossing_cm(here: Setting, who: tuple[str, ...]) -> float:
    keep, give = (here.stems.take(np.array([here.place[each]])) for each in who)
    met = between.meeting(keep, give, between.FOOT_ZONE * here.main_cm)
    return float(met.other_cm[0])


def _singles(here: Setting) -> Iterator[Finding]:
    for code, measure in SINGLES.items():
        excess = measure(here, here.stems)
        for at in np.flatnonzero(excess > 0):
            stem = here.lines[at]
            if code == "down" and here.made_of[at].weeping:
                continue
            said: dict[str, object] = {"stem": here.called(stem.id)}
            if code in ("rim", "in-water"):
                said["low_cm"] = min(float(excess[at]) * here.main_cm, _most_low_cm(here, code))
            yield from found(code, (stem.id,), float(excess[at]), **said)
    if here.leaves:
        wet = alone.blade_in_water(here, here.blades)
        for at in np.flatnonzero(wet > 0):
            who = here.leaves[at].id
            low = float(wet[at]) * here.main_cm
            yield from found(
                "leaf-in-water", (who,), float(wet[at]), stem=here.called(who), low_cm=low
            )


def _most_low_cm(here: Setting, code: str) -> float:
    """How low a stem can be: to the bottom of the water, or from the rim to the floor."""
    vessel = here.piece.vessel
    return here.piece.water_cm if code == "in-water" else vessel.inside_cm


def _flowers(here: Setting) -> Iterator[Finding]:
    flowers = np.flatnonzero(here.stems.head_cm >= between.HEAD * here.main_cm)
    if not len(flowers):
        return
    heads = here.stems.take(flowers)
    count = len(flowers)
    one, other = (np.arange(count * count) // count, np.arange(count * count) % count)
    hidden = between.hides(here, heads.take(one), heads.take(other))
    for at in np.flatnonzero((hidden > 0) & (one != other)):
        who = tuple(here.lines[flowers[each[at]]].id for each in (one, other))
        yield from found("flower-hidden", who, float(hidden[at]), **names(here, who))
    if here.leaves:
        by_leaf = alone.behind_leaf(here, heads, here.blades)
        for flower, leaf in np.argwhere(by_leaf > 0):
            who = here.lines[flowers[flower]].id, here.leaves[leaf].id
            yield from found("leaf-hides", who, float(by_leaf[flower, leaf]), **names(here, who))


def _helpers(here: Setting) -> Iterator[Finding]:
    """Helper stems against the stem that they follow, and against each other."""
    if "hanging" in here.allow:
        return
    helpers = [stem for stem in here.lines if stem.role == "helper" and stem.leader is not None]
    share = {}
    for stem in helpers:
        leader = here.piece.stem(str(stem.leader))
        share[stem.id] = stem.length_cm / leader.length_cm
        who = leader.id, stem.id
        over = share[stem.id] / LONGER - 1.0
        yield from found("helper-long", who, over, **names(here, reversed(who)))
    for at, stem in enumerate(helpers):
        for other in helpers[at + 1 :]:
            if stem.leader == other.leader:
                near = 1.0 - abs(share[stem.id] - share[other.id]) / SAME_CUT
                who = stem.id, other.id
                yield from found("helper-equal", who, near, **names(here, who))


def _outline(here: Setting) -> Iterator[Finding]:
    flat, equal, alike = whole.triangle(here)
    yield from found("triangle-flat", MAIN, flat)
    yield from found("triangle-equal", MAIN, equal)
    yield from found("triangle-alike", MAIN, alike)
    turned, wide, narrow = whole.spread(here)
    who = ("second", "third")
    yield from found("spread-wide", who, wide, apart_deg=turned)
    yield from found("spread-narrow", who, narrow, apart_deg=turned)
    yield from found("flat", MAIN, whole.flatness(here))
    front, back = whole.depth(here)
    yield from found("no-front", MAIN, front)
    yield from found("no-back", (), back)
    symmetric, centred, one_side = whole.balance(here)
    yield from found("symmetric", MAIN, symmetric)
    yield from found("centred", MAIN, centred)
    yield from found("one-side", MAIN, one_side)
    share, small, tall, wide_piece = whole.size(here)
    yield from found("small", ("first",), small, times=f"{share:.1f}")
    yield from found("tall", ("first",), tall, times=f"{share:.1f}")
    yield from found("wide", MAIN, wide_piece)


def _foot(here: Setting, taught_cm: tuple[float, float]) -> Iterator[Finding]:
    near, off = whole.holder_place(here, taught_cm)
    yield from found("holder-middle", (), near)
    yield from found("holder-place", (), off)
    yield from found("loose-feet", (), whole.loose_feet(here))
    if "open-holder" not in here.allow:
        yield from _pins(here)
    if "hide-water" not in here.allow and here.piece.season not in ("autumn", "winter"):
        water = whole.open_water(here)
        hidden = whole.WATER_HIDDEN - water
        yield from found("water-hidden", (), hidden, share_percent=rounded(water))
    heads = np.array([each.head_g for each in here.made_of])
    factor = float(whole.tips(here, whole.load(here, here.stems, heads)))
    yield from found("tips", (), whole.SURE - factor)


def _pins(here: Setting) -> Iterator[Finding]:
    worst, aside = whole.pins_hidden(here)
    bare = 1.0 - worst
    if not here.leaves:  # not finished yet, which is no fault
        yield from found("holder-bare", (), bare - whole.SHOWS)
        return
    yield from found("holder-shows", (), bare - whole.SHOWS, share_percent=rounded(bare))
    if bare <= whole.SHOWS:
        over = 1.0 - aside - whole.SHOWS_ASIDE
        yield from found("holder-aside", (), over, share_percent=rounded(1.0 - aside))


def rounded(share: float) -> float:
    """A share in percent, to the 5 that the samples can tell."""
    return round(share * 20) * 5.0


def _counted(here: Setting, also: frozenset[str]) -> Iterator[Finding]:
    kinds = Counter(
        made.plant
        for stem, made in zip(here.lines, here.made_of, strict=True)
        if made.plant and made.kind not in ("leaf", "grass")
    )
    for plant, count in sorted(kinds.items()):
        # Two are allowed; twos and odd numbers of several kinds may well be even together.
        even = 1.0 if count > 2 and count % 2 == 0 else 0.0
        yield from found("even", _of(here, plant), even, number=count, less=count - 1)
    many = [plant for plant, count in sorted(kinds.items()) if count > 2]
    for at, plant in enumerate(many):
        for other in many[at + 1 :]:
            same = 1.0 if SAME_COUNT in also and kinds[plant] == kinds[other] else 0.0
            who = _of(here, plant) + _of(here, other)
            yield from found("equal-counts", who, same, number=kinds[plant])
    if HERB_ORDER in also:
        yield from _herb_order(here)
    if COLOUR in also:
        yield from _colours(here)


def _of(here: Setting, plant: str) -> tuple[str, ...]:
    """The stems of a plant, those last that can be left out."""
    mine = [at for at, made in enumerate(here.made_of) if made.plant == plant]
    return tuple(here.lines[at].id for at in sorted(mine, key=lambda at: int(here.rank[at])))


def _herb_order(here: Setting) -> Iterator[Finding]:
    """A herb as a main stem with a tree on either side of it, from the front."""
    ordered = sorted(here.mains, key=lambda at: float(here.stems.end_cm[at, 0]))
    left, middle, right = (here.made_of[at] for at in ordered)
    flanked = left.woody and right.woody and not middle.woody
    who = tuple(here.lines[ordered[at]].id for at in (0, 2, 1))
    yield from found("herb-between-trees", who, float(flanked), **names(here, reversed(who)))


def _colours(here: Setting) -> Iterator[Finding]:
    """Flowers of one colour on both sides of another flower, and none of it elsewhere."""
    flowers = [at for at, made in enumerate(here.made_of) if made.colour and made.head_cm > 0]
    ordered = sorted(flowers, key=lambda at: float(here.stems.end_cm[at, 0]))
    if len(ordered) > 2:
        first, last = here.made_of[ordered[0]].colour, here.made_of[ordered[-1]].colour
        inner = {here.made_of[at].colour for at in ordered[1:-1]}
        who = tuple(here.lines[at].id for at in (ordered[0], ordered[-1]))
        both = first == last and first not in inner
        yield from found("colour-both-sides", who, float(both), colour=first)

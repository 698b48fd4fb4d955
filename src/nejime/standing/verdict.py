"""Stands, try it first, will fall: the verdict over all that is uncertain.

Model: the piece is judged 400 times with every uncertain quantity drawn from the fixed table
(`draws`), at two levels: the pin holder in the vessel (held down by what it weighs under water) and
the vessel on the table (with its water and holder, at their true weights). The word of a level:

* *stands*: at least 95 in 100 stand, nine in ten would stand with stems a fifth heavier, and a push
  of 10 g at the top does not tip the middle one;
* *falls*: fewer than 20 in 100 stand;
* *try it first*: all else, and always where the centre of gravity is within 2 mm of the edge: no
  reckoning can decide that (rigid bodies against a simulation with contacts, 200 cases).

The verdict is the worse level's. A stem that cannot carry itself makes it "try it first" at best.
Frame: the house frame.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, NamedTuple

import numpy as np
import numpy.typing as npt

from nejime.basis.angles import compass_word
from nejime.basis.errors import refuse
from nejime.basis.sayings import Saying
from nejime.forms.stems import Piece, stem_name
from nejime.standing import draws as table
from nejime.standing.bending import Array
from nejime.standing.fixing import cross_bar
from nejime.standing.levels import Extra, Level, tippings, vessel_tipping
from nejime.standing.loads import Bodied, Loads, loads, rigid_loads
from nejime.standing.pins import holds_g_cm, wants_splitting
from nejime.standing.tipping import Tipping
from nejime.standing.water import lowest_cm, water

Word = Literal["stands", "try-first", "falls"]
WORDS: tuple[Word, ...] = ("stands", "try-first", "falls")  # the better first

STANDS_CHANCE = 0.95  # [own]
FALLS_CHANCE = 0.2  # [own]
LEAST_LOW_FACTOR = 1.2  # [own] simulated pieces fell up to 1.19 where reckoning said "just stands"
LEAST_NUDGE_G = 10.0  # [own]
EDGE_CM = 0.2  # [own] simulated pieces this near to the edge went either way
LIMP_CHANCE = 0.5  # [own] fewer than this hold themselves: the stem is called limp


class Spread(NamedTuple):
    """One in ten is less than `low`, half are less than `median`, nine in ten less than `high`."""

    low: float
    median: float
    high: float


@dataclass(frozen=True, slots=True)
class LevelVerdict:
    """What becomes of the pin holder in the vessel, or of the vessel on the table.

    `cause`: what keeps it from *stands*: the `chance`, the `nudge`, the `edge`; else empty.
    """

    level: Level
    word: Word
    cause: str
    chance: float
    load_factor: Spread
    bearing_deg: float
    margin_cm: float
    nudge_g: float


@dataclass(frozen=True, slots=True)
class StemLoad:
    """One stem as it stands: the middle of the draws.

    `reach_cm`: how far out its centre of gravity is from where it is held. `foot_tilt_deg`: the
    lean to give its foot so that it stands as drawn. `pins`: what the pins resist over what turns
    it, None in a tall vase.
    """

    id: str
    g: float
    reach_cm: float
    foot_tilt_deg: float
    holds_itself: bool
    pins: float | None


@dataclass(frozen=True, slots=True)
class Verdict:
    """Whether a piece stands.

    `chance`: share of the draws that stand at both levels. `load_factor`, `bearing_deg`,
    `margin_cm` and `nudge_g` are those of the worse level. `weigh`: the stem (or `holder`) whose
    mass decides.
    """

    word: Word
    level: Level
    chance: float
    load_factor: Spread
    bearing_deg: float
    margin_cm: float
    nudge_g: float
    reason: Saying
    weigh: str | None
    remarks: tuple[Saying, ...]
    levels: tuple[LevelVerdict, ...]
    stems: tuple[StemLoad, ...]

    @property
    def weigh_the_branch(self) -> bool:
        """Whether weighing one stem would settle it."""
        return self.weigh is not None and self.weigh != "holder"

    @property
    def better_than(self) -> tuple[int, float]:
        """What verdicts are compared by: the greater, the better."""
        return -WORDS.index(self.word), min(self.load_factor.low, 1e6)


def judge(
    piece: Piece,
    known: Bodied | None = None,
    *,
    extras: tuple[Extra, ...] = (),
    remarks: bool = True,
) -> Verdict:
    """Judges a piece; `known` tells what stems are made of, by stem id, as far as anybody told.

    Without `remarks` only the verdict itself is made, which is quicker. Raises `InputError` for a
    piece without stems.
    """
    if not piece.stems:
        raise refuse("stems", "standing.no-stems")
    told = known or {}
    found = loads(piece, told, drawn=True)
    both = tippings(piece, found, extras, piece.water_cm)
    levels = tuple(_level(level, each) for level, each in both.items())
    worse = max(levels, key=lambda each: (WORDS.index(each.word), -each.load_factor.median))
    stems = _stem_loads(piece, found)
    limp = [stem.id for stem in stems if not stem.holds_itself]
    word: Word = "try-first" if limp and worse.word == "stands" else worse.word
    weigh = None if word == "stands" else _weigh(piece, found, both[worse.level], worse.word)
    said = _remarks(piece, told, found, extras, levels, stems, weigh) if remarks else ()
    return Verdict(
        word=word,
        level="stem" if word != worse.word else worse.level,
        chance=float(np.mean(np.all([each.stands for each in both.values()], axis=0))),
        load_factor=worse.load_factor,
        bearing_deg=worse.bearing_deg,
        margin_cm=worse.margin_cm,
        nudge_g=worse.nudge_g,
        reason=_reason(piece, worse, word, limp),
        weigh=weigh,
        remarks=said,
        levels=levels,
        stems=stems,
    )


def quick_word(piece: Piece, known: Bodied | None = None) -> tuple[Word, Saying]:
    """The word and its reason while stems are rigid: for a hand that is still moving one.

    Raises `InputError` for a piece without stems.
    """
    if not piece.stems:
        raise refuse("stems", "standing.no-stems")
    both = tippings(piece, rigid_loads(piece, known or {}), (), piece.water_cm)
    levels = [_level(level, each) for level, each in both.items()]
    worse = max(levels, key=lambda each: (WORDS.index(each.word), -each.load_factor.median))
    return worse.word, _reason(piece, worse, worse.word, [])


def _level(level: Level, found: Tipping) -> LevelVerdict:
    word, cause = _word(found)
    return LevelVerdict(
        level=level,
        word=word,
        cause=cause,
        chance=float(np.mean(found.stands)),
        load_factor=_spread(found.factor),
        bearing_deg=_middle_bearing(found.bearing_deg),
        margin_cm=float(np.median(found.margin_cm)),
        nudge_g=float(np.median(found.nudge_g)),
    )


def _word(found: Tipping) -> tuple[Word, str]:
    chance = float(np.mean(found.stands))
    if abs(float(np.median(found.margin_cm))) < EDGE_CM:
        return "try-first", "edge"
    if chance < FALLS_CHANCE:
        return "falls", "chance"
    if chance < STANDS_CHANCE or _spread(found.factor).low < LEAST_LOW_FACTOR:
        return "try-first", "chance"
    if float(np.median(found.nudge_g)) < LEAST_NUDGE_G:
        return "try-first", "nudge"
    return "stands", ""


def _spread(values: Array) -> Spread:
    low, middle, high = np.quantile(values, (0.1, 0.5, 0.9), method="inverted_cdf")
    return Spread(float(low), float(middle), float(high))


def _middle_bearing(bearing_deg: Array) -> float:
    turn = np.radians(bearing_deg)
    return float(np.degrees(np.arctan2(np.mean(np.sin(turn)), np.mean(np.cos(turn))))) % 360.0


def _weigh(piece: Piece, found: Loads, tip: Tipping, word: Word) -> str | None:
    """The stem, or `holder`, whose mass decides: light and heavy thirds get different words."""
    weights = {
        stem.id: found.g[:, at]
        for at, stem in enumerate(piece.stems)
        if not found.bodies[at].weighed
    }
    if piece.holder is not None and not piece.holder.mass.weighed:
        weights["holder"] = table.column(table.HOLDER)
    best, most = None, 0.0
    for name, weight in weights.items():
        order = np.argsort(weight)
        third = len(order) // 3
        light, heavy = _some(tip, order[:third]), _some(tip, order[-third:])
        matters = abs(float(np.mean(light.stands)) - float(np.mean(heavy.stands)))
        if matters > most and word in _only_one(_word(light)[0], _word(heavy)[0]):
            best, most = name, matters
    return best


def _only_one(one: Word, other: Word) -> tuple[Word, ...]:
    """Both words where they differ, none where they agree."""
    return () if one == other else (one, other)


def _some(tip: Tipping, chosen: npt.NDArray[np.intp]) -> Tipping:
    return Tipping(
        tip.factor[chosen], tip.bearing_deg[chosen], tip.margin_cm[chosen], tip.nudge_g[chosen]
    )


def what_tips(piece: Piece, level: Level) -> str:
    """The word in the keys of sayings for what tips: `holder`, `bowl` or `vase`."""
    if level == "holder":
        return "holder"
    return "vase" if piece.vessel.tall else "bowl"


def side(bearing_deg: float) -> Saying:
    """A direction in words, to follow "towards the"."""
    return Saying(f"standing.side.{compass_word(bearing_deg)}")


def _reason(piece: Piece, worse: LevelVerdict, word: Word, limp: list[str]) -> Saying:
    if word == "stands":
        return Saying("standing.stands")
    if limp and worse.word == "stands":
        names = tuple(stem_name(each) for each in limp)
        return Saying("standing.try-limp", stems=names, count=len(names))
    what, towards = what_tips(piece, worse.level), side(worse.bearing_deg)
    if word == "falls":
        return Saying(f"standing.falls-{what}", side=towards)
    if worse.cause == "nudge":
        return Saying(f"standing.try-nudge-{what}", side=towards)
    return Saying(f"standing.try-{what}", side=towards)


def _stem_loads(piece: Piece, found: Loads) -> tuple[StemLoad, ...]:
    bent = found.bent
    turning = np.median(np.abs(bent.moment_g_cm), axis=0)
    return tuple(
        StemLoad(
            id=stem.id,
            g=float(np.median(found.g[:, at])),
            reach_cm=float(np.median(bent.centre_out_cm[:, at])),
            foot_tilt_deg=float(np.median(bent.foot_tilt_deg[:, at])),
            holds_itself=float(np.mean(bent.holds[:, at])) >= LIMP_CHANCE,
            pins=holds_g_cm(found.bodies[at]) / max(float(turning[at]), 1e-9)
            if piece.holder
            else None,
        )
        for at, stem in enumerate(piece.stems)
    )


def _remarks(
    piece: Piece,
    told: Bodied,
    found: Loads,
    extras: tuple[Extra, ...],
    levels: tuple[LevelVerdict, ...],
    stems: tuple[StemLoad, ...],
    weigh: str | None,
) -> tuple[Saying, ...]:
    said: list[Saying] = []
    if weigh == "holder":
        said.append(Saying("standing.weigh-holder"))
    elif weigh is not None:
        said.append(Saying("standing.weigh-stem", stem=stem_name(weigh)))
    said += _named("standing.limp", [stem.id for stem in stems if not stem.holds_itself])
    said += _named(
        "standing.turns-on-pins",
        [stem.id for stem in stems if stem.pins is not None and stem.pins < 1.0],
    )
    if piece.holder is not None:
        thick = [
            stem.id
            for stem, body in zip(piece.stems, found.bodies, strict=True)
            if wants_splitting(body)
        ]
        said += _named("standing.split-foot", thick)
    elif not piece.vessel.tall:  # a ball of wire, pebbles, a forked twig
        said.append(Saying("standing.not-computed"))
    said += _when_low(piece, found, extras, levels)
    said += water(piece, told).remarks
    bar = cross_bar(piece, told)
    said += bar.remarks if bar else ()
    untold = [s.id for s, body in zip(piece.stems, found.bodies, strict=True) if not body.told]
    if len(untold) == len(piece.stems):
        said.append(Saying("standing.assumed-all"))
    else:
        said += _named("standing.assumed", untold)
    return tuple(said)


def _named(key: str, stems: list[str]) -> list[Saying]:
    """One remark that names several stems; none where there are none."""
    names = tuple(stem_name(each) for each in stems)
    return [Saying(key, stems=names, count=len(names))] if names else []


def _when_low(
    piece: Piece, found: Loads, extras: tuple[Extra, ...], levels: tuple[LevelVerdict, ...]
) -> list[Saying]:
    """A remark where the piece gets a worse word when much of the water has gone."""
    low = vessel_tipping(piece, found, extras, lowest_cm(piece))
    if WORDS.index(_word(low)[0]) <= max(WORDS.index(level.word) for level in levels):
        return []
    return [Saying(f"standing.top-up-{what_tips(piece, 'vessel')}")]

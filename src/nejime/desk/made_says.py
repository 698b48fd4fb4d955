"""What a teacher would say of a piece that was measured: the good first, then what to change.

At most `MOST` things are to be changed, those first that move most. Where the interval of a number
does not allow a statement nothing is said; what could not be measured is named as such.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from nejime.basis.angles import apart, bearing
from nejime.basis.sayings import Saying, Words
from nejime.basis.units import as_said_cm
from nejime.desk.made_numbers import UPRIGHT_DEG, StemSaid, leaning, stem_said
from nejime.forms.nudging import TOWARDS_DEG
from nejime.forms.stems import stem_name
from nejime.papers.wording import sentence, towards
from nejime.photo.answer import Line, Measured, MeasuredStem
from nejime.photo.comparing import EVEN, Comparison
from nejime.photo.differences import Difference, StemCompared, known_line
from nejime.photo.outline import unevenness

MOST = 3  # [practice] more at once is no help to a beginner
MOST_GOOD = 3  # [own]
OVER_DEG = 90.0  # [own] a stem turned by more leans to the other side
DEEP = 0.25  # [own] depth over the longest stem that is told of a piece without a plan
Effect = tuple[float, Saying]


@dataclass(frozen=True, slots=True)
class Told:
    """What is said of a piece: what is good, at most three changes by effect, what nobody can
    say from these pictures, and the numbers of each stem."""

    good: tuple[str, ...]
    change: tuple[str, ...]
    unsure: tuple[str, ...]
    rows: tuple[StemSaid, ...]


def told(found: Comparison | Measured, words: Words) -> Told:
    """What is said of a piece beside its plan, or of one without a plan."""
    if isinstance(found, Measured):
        return Told(
            good=_said(_seen(found), words)[:MOST_GOOD],
            change=(),
            unsure=_said(_unsure(found, found.stems), words),
            rows=tuple(stem_said(each, None, words) for each in found.stems),
        )
    compared = {each.id: each for each in found.stems}
    return Told(
        good=_said(_good(found), words)[:MOST_GOOD],
        change=_said(_changes(found), words)[:MOST],
        unsure=_said(_not_sure(found), words),
        rows=tuple(stem_said(each, compared.get(each.id), words) for each in found.measured.stems),
    )


def _said(sayings: Iterator[Saying], words: Words) -> tuple[str, ...]:
    return tuple(dict.fromkeys(sentence(words.say(each)) for each in sayings))


# What is good


def _good(found: Comparison) -> Iterator[Saying]:
    """What surely is as it was meant, the most telling first; at least one true thing."""
    said = list(_as_meant(found))
    yield from said
    if not said:
        yield from _nearest(found)


def _as_meant(found: Comparison) -> Iterator[Saying]:
    near = [each for each in found.stems if each.near]
    all_near = {stem.id for stem in found.plan.main} <= {each.id for each in near}
    plain = found.turn is None and found.scale is None
    whole = near if plain else []
    if all_near:
        yield Saying(f"made.says.good.{'all' if plain else 'among'}")
    else:
        for each in whole:
            yield _stands(each)
    if found.uneven_as_meant:
        yield Saying("made.says.good.triangle")
    if found.depth is not None and found.depth.near:
        yield Saying("made.says.good.depth", depth_cm=found.depth.made.value)
    if found.scale is not None:
        yield Saying("made.says.good.scale")
    for each in found.stems:
        if each not in whole:
            yield from _parts_as_meant(each, found)


def _stands(each: StemCompared) -> Saying:
    assert each.lean is not None
    return Saying(
        "made.says.good.stem",
        stem=stem_name(each.id),
        tilt_deg=each.lean.made.value,
        aim_deg=each.lean.aim,
    )


def _parts_as_meant(each: StemCompared, found: Comparison) -> Iterator[Saying]:
    name = stem_name(each.id)
    if each.lean is not None and each.lean.near:
        yield Saying(
            "made.says.good.lean",
            stem=name,
            tilt_deg=each.lean.made.value,
            aim_deg=each.lean.aim,
        )
    if found.turn is None and each.direction is not None and each.direction.near:
        yield Saying("made.says.good.direction", stem=name, towards=towards(each.aim.bearing_deg))
    if found.scale is None and each.length is not None and each.length.near:
        yield Saying("made.says.good.length", stem=name, length_cm=each.length.made.value)
    if each.in_picture is not None and each.in_picture.near:
        lean = each.in_picture
        yield Saying(
            "made.says.good.picture",
            stem=name,
            lean=leaning(lean.made.value),
            aim=leaning(lean.aim),
        )


def _nearest(found: Comparison) -> Iterator[Saying]:
    """Where nothing surely is as meant: which stem is nearest to it."""
    known = [(each.away_cm, each.id) for each in found.stems if each.away_cm is not None]
    if known:
        away, stem = min(known)
        yield Saying("made.says.good.nearest", stem=stem_name(stem), away_cm=away)


# What to change


def _changes(found: Comparison) -> Iterator[Saying]:
    """What is to be changed: first that it opens to the other side, then by effect."""
    if found.mirrored:
        yield Saying(
            "made.says.change.mirrored",
            made=Saying(f"nudge.side.{found.plan.opens}"),
            meant=Saying(f"nudge.side.{'left' if found.plan.opens == 'right' else 'right'}"),
        )
    effects = [*_of_whole(found), *_of_stems(found)]
    for _, saying in sorted(effects, key=lambda each: -each[0]):
        yield saying


def _of_whole(found: Comparison) -> Iterator[Effect]:
    if found.turn is not None:
        yield (
            found.turn.effect_cm,
            Saying(
                f"made.says.change.turn-{'bowl' if found.turn.bowl else 'holder'}",
                by_deg=abs(found.turn.by_deg),
                side=Saying(f"nudge.side.{'right' if found.turn.by_deg > 0 else 'left'}"),
            ),
        )
    if found.scale is not None:
        first = max(found.plan.main, key=lambda stem: stem.length_cm)
        longer = found.scale.share > 1.0
        yield (
            found.scale.effect_cm,
            Saying(
                f"made.says.change.scale-{'longer' if longer else 'shorter'}",
                by_percent=100.0 * abs(found.scale.share - 1.0),
                stem=stem_name(first.id),
                by_cm=abs(found.scale.share - 1.0) * first.length_cm,
            ),
        )
    yield from _flat(found)
    if found.holder_cm is not None:
        x, y = found.holder_cm
        yield (
            math.hypot(x, y),
            Saying(
                "made.says.change.holder",
                by_cm=math.hypot(x, y),
                towards=towards(bearing(-x, -y)),
            ),
        )


def _flat(found: Comparison) -> Iterator[Effect]:
    """A flat piece, with what gives it depth where no other change says so."""
    depth = found.depth
    if depth is None or not depth.flat:
        return
    told_already = {each.stem for each in found.changes if each.kind != "length"}
    key = "flat" if depth.stem in told_already else "flat-bring"
    yield (
        depth.effect_cm,
        Saying(
            f"made.says.change.{key}",
            depth_cm=max(0.0, depth.made.value),
            aim_cm=depth.aim_cm,
            stem=stem_name(depth.stem),
            by_cm=abs(depth.missing_cm),
            side=Saying(f"nudge.side.{'front' if depth.missing_cm > 0 else 'back'}"),
        ),
    )


def _of_stems(found: Comparison) -> Iterator[Effect]:
    compared = {each.id: each for each in found.stems}
    how: dict[str, Callable[[StemCompared], Saying]] = {
        "lean": _lean,
        "direction": _direction,
        "lean-direction": _both,
        "length": _length,
        "picture": _picture,
    }
    for change in found.changes:
        yield change.effect_cm, how[change.kind](compared[change.stem])


def _steps(lean: Difference) -> tuple[str, float, float, float]:
    """Which way a lean is to be changed, what it is and was meant to be, and the difference, in
    whole degrees so that what is said adds up."""
    made, aim = round(lean.made.value), round(lean.aim)
    return ("lower" if made < aim else "raise"), made, aim, abs(aim - made)


def _lean(each: StemCompared) -> Saying:
    assert each.lean is not None
    way, made, aim, by = _steps(each.lean)
    return Saying(
        f"made.says.change.{way}",
        stem=stem_name(each.id),
        tilt_deg=made,
        aim_deg=aim,
        by_deg=by,
        towards=towards(each.aim.bearing_deg),
    )


def _side(made_deg: float, aim_deg: float) -> Saying:
    """To which side a direction has to be turned: the side that the turn comes nearer to most."""
    nearer = {side: apart(made_deg, at) - apart(aim_deg, at) for side, at in TOWARDS_DEG.items()}
    best = max(
        nearer, key=lambda side: (round(nearer[side], 6), -apart(aim_deg, TOWARDS_DEG[side]))
    )
    return Saying(f"nudge.side.{best}")


def _turning(each: StemCompared) -> dict[str, object]:
    turn = each.direction
    assert turn is not None
    made = turn.aim + turn.by
    return {
        "stem": stem_name(each.id),
        "by_deg": abs(turn.by),
        "side": _side(made, turn.aim),
        "towards": towards(turn.made.value % 360.0),
        "aim": towards(each.aim.bearing_deg),
    }


def _direction(each: StemCompared) -> Saying:
    told_ = _turning(each)
    assert each.direction is not None
    if abs(each.direction.by) > OVER_DEG:
        return Saying("made.says.change.over", **told_)
    return Saying("made.says.change.direction", **told_)


def _both(each: StemCompared) -> Saying:
    assert each.lean is not None
    assert each.direction is not None
    way, made, aim, by = _steps(each.lean)
    told_ = _turning(each) | {"tilt_deg": made, "aim_deg": aim, "lean_deg": by}
    if abs(each.direction.by) > OVER_DEG:
        return Saying("made.says.change.over-lean", **told_)
    return Saying(f"made.says.change.{way}-turn", **told_)


def _length(each: StemCompared) -> Saying:
    """Shortening can be done; lengthening cannot, so what can be done instead is said."""
    assert each.length is not None
    made, aim = as_said_cm(each.length.made.value), as_said_cm(each.length.aim)
    key = "shorten" if each.length.by > 0 else "short"
    if key == "short" and each.id == "first":
        key = "short-first"
    return Saying(
        f"made.says.change.{key}",
        stem=stem_name(each.id),
        by_cm=abs(made - aim),
        length_cm=made,
        aim_cm=aim,
        by_percent=100.0 * abs(each.length.by) / each.length.aim,
    )


def _picture(each: StemCompared) -> Saying:
    assert each.in_picture is not None
    made, aim = round(each.in_picture.made.value), round(each.in_picture.aim)
    if made * aim < 0 and min(abs(made), abs(aim)) >= UPRIGHT_DEG:
        key = "picture-over"
    else:
        key = "picture-lower" if abs(made) < abs(aim) else "picture-raise"
    lower = aim if key == "picture-lower" else made
    return Saying(
        f"made.says.change.{key}",
        stem=stem_name(each.id),
        lean=leaning(made),
        aim=leaning(aim),
        by_deg=abs(aim - made),
        side=Saying(f"nudge.side.{'right' if lower > 0 else 'left'}"),
    )


# What nobody can say


def _not_sure(found: Comparison) -> Iterator[Saying]:
    yield from _unsure(found.measured, found.measured.stems)
    for stem in found.unmarked:
        yield Saying("made.says.unsure.unmarked", stem=stem_name(stem))
    for each in found.stems:
        if each.grew:
            yield Saying("made.says.unsure.grew", stem=stem_name(each.id))
        wide = tuple(_wide(each))
        if wide:
            yield Saying("made.says.unsure.wide", stem=stem_name(each.id), what=wide)


def _wide(each: StemCompared) -> Iterator[Saying]:
    """What of a stem is known too badly to be compared."""
    for what, known in (
        ("lean", each.lean),
        ("direction", each.direction),
        ("length", each.length),
        ("lean", each.in_picture),
    ):
        if known is not None and known.made.half > known.tolerance and not known.off:
            yield Saying(f"made.says.what.{what}")


def _unsure(made: Measured, stems: Sequence[MeasuredStem]) -> Iterator[Saying]:
    one = "one" if len(made.cameras) == 1 else "two"
    if any(each.status == "lean only" for each in stems):
        yield Saying("made.says.unsure.lean-only")
    for each in stems:
        if each.status == "two answers":
            yield Saying("made.says.unsure.two-answers", stem=stem_name(each.id))
        elif each.status == "not measurable":
            yield Saying(f"made.says.unsure.not-measurable-{one}", stem=stem_name(each.id))


# A piece without a plan


def _seen(made: Measured) -> Iterator[Saying]:
    """What a piece shows by itself."""
    known = {each.id: line for each in made.stems if (line := known_line(each)) is not None}
    if len(known) == MOST:
        ends = [(line.end_cm.x_cm, line.end_cm.z_cm) for line in known.values()]
        if unevenness(*ends) >= EVEN:
            yield Saying("made.says.seen.triangle")
    if known:
        yield from _reach(known)
        high = max(known, key=lambda each: known[each].end_cm.z_cm)
        yield Saying(
            "made.says.seen.highest", stem=stem_name(high), height_cm=known[high].end_cm.z_cm
        )
        return
    leans = [(each, lean) for each in made.stems for lean in each.picture_lean_deg[:1] if lean]
    if leans:
        least, lean = min(leans, key=lambda pair: abs(pair[1].value))
        yield Saying(
            "made.says.seen.most-upright", stem=stem_name(least.id), lean=leaning(lean.value)
        )


def _reach(known: dict[str, Line]) -> Iterator[Saying]:
    away = [0.0, *(line.end_cm.y_cm - line.foot_cm.y_cm for line in known.values())]
    longest = max(line.length_cm.value for line in known.values())
    if max(away) - min(away) >= DEEP * longest:
        yield Saying("made.says.seen.depth", depth_cm=max(away) - min(away))

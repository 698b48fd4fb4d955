"""What is to be changed of a measured piece, in a teacher's words, what moves most first.

What is common to all stems is one change. A stem can be cut but not made longer: where it is too
short, what can be done instead is said.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator

from nejime.basis.angles import apart, bearing
from nejime.basis.sayings import Saying, Words
from nejime.desk.made.numbers import UPRIGHT_DEG, leaning, step_cm
from nejime.forms.nudging import TOWARDS_DEG
from nejime.forms.stems import stem_name
from nejime.papers.wording import towards
from nejime.photo.comparing import Comparison
from nejime.photo.differences import Difference, StemCompared

OVER_DEG = 90.0  # [own] a stem turned by more leans to the other side
Effect = tuple[float, Saying]


def changes(found: Comparison, words: Words) -> Iterator[Saying]:
    """What is to be changed: first that it opens to the other side, then by effect."""
    yield from _other_side(found)
    yield from _in_order([*_of_whole(found), *_of_stems(found, words)])


def whole_changes(found: Comparison) -> Iterator[Saying]:
    """What is to be changed of the whole piece, without single stems."""
    yield from _other_side(found)
    yield from _in_order(list(_of_whole(found)))


def _in_order(effects: list[Effect]) -> Iterator[Saying]:
    for _, saying in sorted(effects, key=lambda each: -each[0]):
        yield saying


def _other_side(found: Comparison) -> Iterator[Saying]:
    if found.mirrored:
        yield Saying(
            "made.says.change.mirrored",
            made=Saying(f"nudge.side.{found.plan.opens}"),
            meant=Saying(f"nudge.side.{'left' if found.plan.opens == 'right' else 'right'}"),
        )


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


def _of_stems(found: Comparison, words: Words) -> Iterator[Effect]:
    compared = {each.id: each for each in found.stems}
    how: dict[str, Callable[[StemCompared], Saying]] = {
        "lean": _lean,
        "direction": _direction,
        "lean-direction": _both,
        "length": lambda each: _length(each, words),
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


def turning_side(made_deg: float, aim_deg: float) -> Saying:
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
        "side": turning_side(made, turn.aim),
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
    same = told_["towards"] == told_["aim"]
    return Saying(f"made.says.change.{way}-turn{'-same' if same else ''}", **told_)


def _length(each: StemCompared, words: Words) -> Saying:
    """Shortening can be done; lengthening cannot, so what can be done instead is said."""
    assert each.length is not None
    made, aim = each.length.made.value, each.length.aim
    key = "shorten" if each.length.by > 0 else "short"
    if key == "short" and each.id == "first":
        key = "short-first"
    return Saying(
        f"made.says.change.{key}",
        stem=stem_name(each.id),
        by_cm=abs(step_cm(made, aim, words)),
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

"""The outline of a piece in words, beside its plan's: a description, never a mark.

Both outlines are drawn by the same rules, from straight lines and the rim, as the camera of the
first picture sees them, in one frame.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from nejime.basis.sayings import Saying, Words
from nejime.papers.wording import one_unit
from nejime.photo.answer import Measured
from nejime.photo.comparing import Comparison
from nejime.photo.differences import known_line
from nejime.photo.outline import Composition, composition, silhouettes
from nejime.photo.triangle import sides

MIDDLE = 0.04  # [own] a weight nearer to the middle, in halves of the frame, lies in it
FEW = 3  # [own] ends of a triangle


@dataclass(frozen=True, slots=True)
class Described:
    """One measure of an outline: what it is, how yours is, how the plan's is or nothing."""

    what: str
    yours: str
    plans: str = ""


def described(found: Comparison | Measured, words: Words) -> tuple[Described, ...]:
    """The outline's measures in words; nothing where not all lines are known in space."""
    made = found if isinstance(found, Measured) else found.measured
    lines = {each.id: line for each in made.stems if (line := known_line(each)) is not None}
    if len(lines) < len(made.stems) or not lines:
        return ()
    yours = [np.array([line.foot_cm, line.end_cm]) for line in lines.values()]
    plans: list[Any] = []
    if isinstance(found, Comparison):
        plans = [np.array([stem.start, stem.end]) for stem in found.plan.stems if stem.id in lines]
    shapes = silhouettes([yours, plans] if plans else [yours], made.rim, made.cameras[0])
    if not shapes:
        return ()
    texts = [_texts(composition(each), words) for each in shapes]
    keys = ("weight", "empty", "mirror")
    rows = [
        Described(words.say(Saying(f"made.says.outline.{key}")), *(each[key] for each in texts))
        for key in keys
    ]
    return (*rows, *_triangle(yours, plans, words))


def about_outlines(words: Words) -> str:
    """That these are no marks."""
    return words.say(Saying("made.says.outline.no-score"))


def _texts(found: Composition, words: Words) -> dict[str, str]:
    return {
        "weight": _weight(found, words),
        "empty": words.say(
            Saying("made.says.outline.empty-says", empty_percent=100.0 * found.empty)
        ),
        "mirror": words.say(
            Saying("made.says.outline.mirror-says", mirror_percent=100.0 * found.mirror)
        ),
    }


def _weight(found: Composition, words: Words) -> str:
    """Where the weight lies, left or right of the middle: that is what a teacher speaks of."""
    if abs(found.across) < MIDDLE:
        return words.say(Saying("made.says.outline.middle"))
    side = "right" if found.across > 0 else "left"
    return words.say(
        Saying(
            "made.says.outline.off",
            off_percent=100.0 * abs(found.across),
            side=Saying(f"made.says.side.{side}"),
        )
    )


def _triangle(yours: Sequence[Any], plans: Sequence[Any], words: Words) -> tuple[Described, ...]:
    """The sides of the triangle of three ends from the front, the shortest first."""
    if len(yours) != FEW:
        return ()
    said = [
        _sides([(line[1][0], line[1][2]) for line in piece], words)
        for piece in (yours, plans)
        if len(piece) == FEW
    ]
    return (Described(words.say(Saying("made.says.outline.ends")), *said),)


def _sides(ends: Sequence[tuple[float, float]], words: Words) -> str:
    one = one_unit(words)
    return " · ".join(one.quantity("side_cm", each) for each in sides(*ends))

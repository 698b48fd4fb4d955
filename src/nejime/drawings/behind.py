"""The piece from the front and from above, and behind it, thin and dashed, how it stood before.

Model: the drawings of `elevation` and `plan`, with straight lines in space behind all else. A line
that ends elsewhere than the stem does now says so at its end; the numbers are of the piece as it
should be.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from nejime.basis.angles import Point
from nejime.basis.sayings import Saying, Words
from nejime.drawings.elevation import USUAL, Wanted, described, side_figure
from nejime.drawings.labels import Label
from nejime.drawings.layout import Draw, Figure, Sheet, Subject, fitted
from nejime.drawings.material import DARK
from nejime.drawings.plan import USUAL as USUAL_PLAN
from nejime.drawings.plan import plan_figure
from nejime.drawings.pottery import pot_from_above
from nejime.drawings.scene import Scene
from nejime.drawings.svg import INK, Mark, Path, written
from nejime.drawings.views import PLAN, SIDES, Projection

BEFORE_MM = 0.3  # [own] thin, but no hairline: those show leans
BEFORE_DASH = (1.1, 0.9)  # [own] no stem of a drawing has it
ELSEWHERE_MM = 5.0  # [own] an end nearer to where it is now needs no word


@dataclass(frozen=True, slots=True)
class Before:
    """A stem as it stood: its id, and its line from foot to end in the house frame."""

    id: str
    foot: Point
    end: Point


Lines = Sequence[Before]


def front_before(
    scene: Scene, before: Lines, words: Words, *, width_mm: float, height_mm: float, text_pt: float
) -> str:
    """The piece from the front as SVG, and behind it the lines of before."""

    says = _told(scene, words, text_pt)

    def draw(scale: float) -> Figure:
        projection = Projection(SIDES["front"], scale)
        wanted = _wanted(scene, USUAL["front"], text_pt)
        return _with(before, projection, side_figure(scene, projection, wanted, words), 0, says)

    return _written(scene, draw, words, "front", (width_mm, height_mm, text_pt), bool(before))


def above_before(
    scene: Scene, before: Lines, words: Words, *, width_mm: float, height_mm: float, text_pt: float
) -> str:
    """The piece from above as SVG, and under it the lines of before."""

    says = _told(scene, words, text_pt)

    def draw(scale: float) -> Figure:
        projection = Projection(PLAN, scale)
        wanted = _wanted(scene, USUAL_PLAN, text_pt)
        below = len(list(pot_from_above(scene, projection)))
        return _with(before, projection, plan_figure(scene, projection, wanted, words), below, says)

    return _written(scene, draw, words, "plan", (width_mm, height_mm, text_pt), bool(before))


@dataclass(frozen=True, slots=True)
class _Told:
    """What stands at the end of a line of before, and where the stems end now."""

    word: str
    size_pt: float
    ends: Mapping[str, Point]


def _told(scene: Scene, words: Words, text_pt: float) -> _Told:
    ends = {each.stem.id: each.end for each in scene.stems}
    return _Told(words.say(Saying("drawings.mark.before")), text_pt, ends)


def _wanted(scene: Scene, shows: frozenset[str], text_pt: float) -> Wanted:
    return Wanted(
        {each.stem.id: DARK for each in scene.stems},
        frozenset(each.stem.id for each in scene.stems if each.stem.role == "main"),
        shows,
        text_pt,
    )


def _with(before: Lines, projection: Projection, figure: Figure, below: int, told: _Told) -> Figure:
    """The figure with the lines of before over its first marks and under all others."""
    lines: list[Mark] = []
    labels: list[Label] = []
    for each in before:
        foot, end = projection.at(each.foot), projection.at(each.end)
        lines.append(Path((foot, end), stroke=INK, width_mm=BEFORE_MM, dash=BEFORE_DASH))
        now = told.ends.get(each.id)
        if now is None or math.dist(projection.at(now), end) > ELSEWHERE_MM:
            wish = (end[0] - foot[0], end[1] - foot[1])
            labels.append(Label((told.word,), end, told.size_pt, wish=wish))
    return replace(
        figure,
        marks=(*figure.marks[:below], *lines, *figure.marks[below:]),
        labels=(*figure.labels, *labels),
    )


def _written(
    scene: Scene,
    draw: Draw,
    words: Words,
    title: str,
    size: tuple[float, float, float],
    has_before: bool,
) -> str:
    last = {"front": "drawings.describes.views", "plan": "drawings.describes.plan"}[title]
    says = described((each.stem for each in scene.stems), words, last)
    if has_before:
        says = f"{says} {words.say(Saying('drawings.describes.before'))}"
    subject = Subject(draw, words.say(Saying(f"drawings.title.{title}")), says)
    return written(fitted(subject, Sheet(*size)))

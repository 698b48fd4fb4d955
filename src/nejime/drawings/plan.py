"""The piece from above: where the holder lies, and where every stem points.

Model: stems are straight lines from foot to end, each with its own dash pattern and weight, and
an arrow's head at its end. The viewer is at the lower edge; from the teacher's side everything is
turned by half a turn and the class is at the upper edge.
"""

from __future__ import annotations

import math

from nejime.basis.angles import Point, compass_word
from nejime.basis.sayings import Saying, Words
from nejime.drawings import lettering
from nejime.drawings.dimensions import DASHES, WEIGHTS_MM, arrow_head, line_kind
from nejime.drawings.elevation import Wanted, described, stem_saying
from nejime.drawings.labels import Label
from nejime.drawings.layout import Figure, Sheet, Subject, fitted
from nejime.drawings.material import DARK
from nejime.drawings.pottery import pot_from_above
from nejime.drawings.scene import Scene, Standing
from nejime.drawings.svg import FINE_MM, HAIR_MM, INK, PAPER, Disc, Mark, Path, Spot, written
from nejime.drawings.views import PLAN, PLAN_TEACHER, Projection

DIRECTIONS = "directions"
NAMES = "names"
VIEWER = "viewer"
USUAL = frozenset((NAMES, DIRECTIONS, VIEWER))
SEAT_MM = 6.0  # [own] from the drawing down to the viewer's sign


def plan(
    scene: Scene,
    words: Words,
    *,
    turned: bool = False,
    width_mm: float = 80.0,
    height_mm: float | None = None,
    text_pt: float = lettering.LEAST_PT,
    shows: frozenset[str] = USUAL,
) -> str:
    """The piece from above as SVG; `turned` for the teacher's side."""
    view = PLAN_TEACHER if turned else PLAN
    name = "plan-teacher" if turned else "plan"
    wanted = Wanted(
        {each.stem.id: DARK for each in scene.stems},
        frozenset(each.stem.id for each in scene.stems if each.stem.role == "main"),
        shows,
        text_pt,
    )
    subject = Subject(
        lambda scale: plan_figure(scene, Projection(view, scale), wanted, words),
        words.say(Saying(f"drawings.title.{name}")),
        described((each.stem for each in scene.stems), words, f"drawings.describes.{name}"),
    )
    return written(fitted(subject, Sheet(width_mm, height_mm, text_pt)))


def plan_figure(scene: Scene, projection: Projection, wanted: Wanted, words: Words) -> Figure:
    """Vessel, holder, stems and the viewer, from above."""
    marks: list[Mark] = list(pot_from_above(scene, projection))
    labels: list[Label] = []
    drawn = [each for each in scene.stems if each.stem.id in wanted.tones]
    # Short stems lie over long ones: the arrows of the long ones end far outside anyway.
    for each in sorted(drawn, key=lambda each: -each.stem.reach_cm):
        colour = wanted.tones[each.stem.id].line
        marks += stem_line(each, projection, colour)
        if each.stem.id in wanted.said:
            text = _words_of(each, wanted, words)
            end, start = projection.at(each.end), projection.at(each.stem.foot)
            wish = (end[0] - start[0], end[1] - start[1])
            labels.append(Label(text, end, wanted.size_pt, bold=1, wish=wish))
    if VIEWER in wanted.shows:
        more, said = _viewer(scene, projection, wanted, words)
        marks += more
        labels = said + labels
    return Figure(tuple(marks), tuple(labels))


def stem_line(standing: Standing, projection: Projection, colour: str = INK) -> list[Mark]:
    """A stem from above: foot, line in its own pattern, arrow's head."""
    stem = standing.stem
    kind = line_kind(stem.id, stem.role)
    start, end = projection.at(stem.foot), projection.at(standing.end)
    weight = WEIGHTS_MM[kind]
    marks: list[Mark] = []
    long_mm = math.dist(start, end)
    if long_mm > 2.5:
        head = 1.6 + 2.0 * weight
        short = max(0.0, 1 - head * 0.8 / long_mm)
        stop = (start[0] + short * (end[0] - start[0]), start[1] + short * (end[1] - start[1]))
        marks.append(Path((start, stop), stroke=PAPER, width_mm=weight + 0.5))
        marks.append(Path((start, stop), stroke=colour, width_mm=weight, dash=DASHES[kind]))
        marks.append(arrow_head(start, end, head, colour))
    marks.append(Disc(start, 0.55, fill=colour, stroke=PAPER, width_mm=HAIR_MM))
    return marks


def _words_of(standing: Standing, wanted: Wanted, words: Words) -> tuple[str, ...]:
    lines = []
    if NAMES in wanted.shows:
        lines.append(words.say(stem_saying(standing.stem)))
    if DIRECTIONS in wanted.shows:
        word = compass_word(standing.stem.bearing_deg)
        lines.append(words.say(Saying(f"drawings.direction.{word}")))
    return tuple(lines)


def _viewer(
    scene: Scene, projection: Projection, wanted: Wanted, words: Words
) -> tuple[list[Mark], list[Label]]:
    """A small sign for a head and shoulders, in front of the piece."""
    turned = projection.view is PLAN_TEACHER
    edge = min(
        [
            -scene.vessel.widest[1],
            *(each.end.y_cm for each in scene.stems if each.stem.id in wanted.tones),
        ]
    )
    x, y = projection.at(Point(0.0, edge, 0.0))
    away = -SEAT_MM if turned else SEAT_MM
    y += away
    sign = math.copysign(1.0, away)
    marks = viewer((x, y), 1.0, sign)
    text = words.say(Saying("drawings.mark.class" if turned else "drawings.mark.you"))
    label = Label((text,), (x, y + sign * 0.8), wanted.size_pt, wish=(1.0, 0.0), leads=False)
    return marks, [label]


def viewer(at: Spot, size: float, sign: float) -> list[Mark]:
    """A small sign for head and shoulders, seen from above; `sign` -1 where the class sits back."""
    x, y = at
    shoulders = []
    for step in range(9):
        angle = math.pi * step / 8
        across, deep = 2.6 * math.cos(angle), 2.2 - 1.9 * math.sin(angle)
        shoulders.append((x + size * across, y + sign * size * deep))
    return [
        Path(tuple(shoulders), curved=True, width_mm=FINE_MM),
        Disc((x, y), 1.0 * size, fill=PAPER, width_mm=FINE_MM),
    ]

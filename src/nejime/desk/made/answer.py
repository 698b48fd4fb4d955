"""What comes of the marks: what is good, what to change, every number with its ±, and the drawings.

Model: the measuring is asked once for all views in which enough is marked. What was meant to be is
laid over each picture through the camera that the measuring found, and stands as dashed lines
beside the piece in space.
"""

from __future__ import annotations

import datetime as dt
import math
from collections.abc import Iterator, Mapping
from functools import lru_cache
from typing import Any

import numpy as np

from nejime.basis.errors import InputError
from nejime.basis.sayings import Saying, Words
from nejime.desk.made.begin import Plan, plan_of
from nejime.desk.made.marks import no_picture, one, ready_views, request_of
from nejime.desk.settings import words_for
from nejime.desk.shelf import Kept, Shelf
from nejime.forms.rules import MAIN
from nejime.forms.stems import stem_name
from nejime.papers.wording import direction, plant_name
from nejime.photo.answer import Line, Measured, MeasuredStem
from nejime.photo.beforehand import PINS_HEIGHT_CM, PINS_OF_RIM
from nejime.photo.camera import Camera
from nejime.photo.level import on_level
from nejime.records.writing import canonical

Json = dict[str, Any]
MOST_REMEMBERED = 8
AIM = ("aim_tilt_deg", "aim_bearing_deg")
SAME_VESSEL = 0.05  # [own] of its width; of a vessel that differs by more, lengths are others


def measured_of(shelf: Shelf, kept: Kept, today: dt.date) -> tuple[Measured, Plan | None]:
    """A kept one, measured. Raises `InputError`."""
    plan = plan_of(shelf, kept.content, today)
    return measured(_request(kept.content, plan)), plan


def _request(content: Mapping[str, Any], plan: Plan | None) -> Json:
    request = request_of(content, plan)
    return {**request, "holder": {**request["holder"], **_pins(content, request)}}


def _pins(content: Mapping[str, Any], request: Mapping[str, Any]) -> Json:
    """Where the pin holder lies, where its pins were touched in the first picture."""
    marked = content["views"][0].get("pins")
    if marked is None or 0 not in ready_views(content):
        return {}
    rim_cm = content["vessel"]["height_cm"]
    height = request["holder"].get("height_cm", min(PINS_HEIGHT_CM, PINS_OF_RIM * rim_cm))
    place = on_level(measured(request).cameras[0], (marked[0], marked[1]), height)
    half = content["vessel"].get("rim_diameter_cm", content["vessel"].get("rim_width_cm", 0)) / 2
    if place is None or max(map(abs, place)) > half:
        return {}
    return {"x_cm": round(place[0], 2), "y_cm": round(place[1], 2)}


def measured(request: Mapping[str, Any]) -> Measured:
    """A measuring request, answered; the last ones are remembered. Raises `InputError`."""
    return _measured(canonical(request))


@lru_cache(maxsize=MOST_REMEMBERED)
def _measured(request: str) -> Measured:
    from nejime.photo.measuring import measure
    from nejime.reading.measuring import read_request
    from nejime.records.writing import content_of

    return measure(read_request(content_of(request), no_picture))


def get_ready() -> None:
    """Loads what measuring needs, so that the first answer is as quick as the others."""
    import nejime.desk.made.outline
    import nejime.desk.made.piece
    import nejime.desk.made.says
    import nejime.drawings.wire
    import nejime.photo.markers
    import nejime.photo.measuring  # noqa: F401


def answer(shelf: Shelf, number: int, today: dt.date) -> Json:
    """All that is said and drawn of a piece. Raises `Missing`, `InputError`."""
    from nejime.desk.made.outline import about_outlines, described
    from nejime.desk.made.says import growing_cm, told
    from nejime.photo.comparing import compared

    kept, words = one(shelf, number), words_for(shelf)
    found, plan = measured_of(shelf, kept, today)
    beside = compared(found, plan.piece, growing_cm(plan.plants)) if plan else found
    names = names_of(kept.content, found, words)
    said = told(beside, words, names)
    return {
        "version": kept.version,
        "planned": plan is not None,
        "good": list(said.good),
        "change": list(said.change),
        "unsure": list(said.unsure),
        "rows": [_row(each, names) for each in said.rows],
        "questions": [
            *(_question(each, names, words) for each in _undecided(found)),
            *_decided(found, _request(kept.content, plan), names, words),
        ],
        "outline": [
            {"what": each.what, "yours": each.yours, "plans": each.plans}
            for each in described(beside, words)
        ],
        "outline_says": about_outlines(words),
        "remarks": [
            *(words.say(each) for each in _other_vessel(plan, kept.content)),
            *(words.say(_with_name(each, names)) for each in found.remarks),
        ],
        "views": _drawn(found, plan, ready_views(kept.content), names, words),
        **_space(found, plan, kept.content, words),
    }


def _with_name(remark: Saying, names: Mapping[str, str]) -> Saying:
    """A remark of the measuring, with its stem called as it is on the page."""
    stem = names.get(str(remark.quantities.get("stem", "")))
    if stem is None:
        return remark
    key = f"made.{remark.key.removeprefix('photo.')}"
    return Saying(key, **{**remark.quantities, "stem": stem})


def _other_vessel(plan: Plan | None, content: Mapping[str, Any]) -> list[Saying]:
    """That the plan is for another vessel than the one in the pictures."""
    if plan is None:
        return []
    meant = plan.piece.vessel
    across = "rim_diameter_cm" if "rim_diameter_cm" in content["vessel"] else "rim_width_cm"
    stood_cm, meant_cm = content["vessel"][across], meant.width_cm + 2 * meant.wall_cm
    if abs(stood_cm - meant_cm) <= SAME_VESSEL * meant_cm:
        return []
    return [Saying("made.other-vessel", width_cm=meant_cm)]


def remake_pdf(shelf: Shelf, number: int, today: dt.date) -> bytes:
    """What is to be made otherwise, or the piece itself to be made again, as PDF.

    Raises `Missing`, `InputError`.
    """
    from nejime.desk.made.printing import remake_sheet

    kept = one(shelf, number)
    found, plan = measured_of(shelf, kept, today)
    if plan is None:
        return remake_sheet(shelf, kept.name, found, kept.content, today)
    return remake_sheet(
        shelf,
        kept.name,
        found,
        kept.content,
        today,
        plan=plan.piece,
        plants=plan.plants,
        looks=plan.looks,
    )


def names_of(content: Mapping[str, Any], found: Measured, words: Words) -> dict[str, str]:
    """What each stem is called: as she calls it, else as the house does."""
    facts = content.get("stems", {})
    return {
        each.id: facts.get(each.id, {}).get("name") or words.say(stem_name(each.id))
        for each in found.stems
    }


def _row(row: Any, names: Mapping[str, str]) -> Json:
    keys = ("lean", "direction", "length", "aim_lean", "aim_direction", "aim_length", "note")
    numbers = {key: getattr(row, key) for key in keys}
    return {"id": row.id, "name": names[row.id], "status": row.status, **numbers}


# Two answers


def _undecided(found: Measured) -> list[MeasuredStem]:
    """The stems of which a picture cannot say whether they come towards us."""
    return [each for each in found.stems if each.line is not None and each.other is not None]


def _question(stem: MeasuredStem, names: Mapping[str, str], words: Words) -> Json:
    assert stem.line is not None
    assert stem.other is not None
    return {
        "id": stem.id,
        "says": words.say(Saying("made.which-way", stem=names[stem.id])),
        "options": [_option(line, words) for line in (stem.line, stem.other)],
    }


def _decided(
    found: Measured, request: Json, names: Mapping[str, str], words: Words
) -> Iterator[Json]:
    """Of one picture, which of two answers the plan or she decided for, and the other to choose."""
    (view, *more) = request["views"]
    told = [each for each in view["stems"] if "cut_length_cm" in each and "aim_tilt_deg" in each]
    if more or not told:
        return
    aimless = [{k: v for k, v in each.items() if k not in AIM} for each in view["stems"]]
    for each in _undecided(measured({**request, "views": [{**view, "stems": aimless}]})):
        taken = found.stem(each.id).line
        if taken is None or found.stem(each.id).other is not None:
            continue
        assert each.line is not None
        assert each.other is not None
        other = max(each.line, each.other, key=lambda line: _apart(line, taken))
        said = {"stem": names[each.id], "tilt_deg": taken.tilt_deg.value}
        said["way"] = direction(taken.bearing_deg.value % 360)
        says = words.say(Saying(f"made.taken-{_way(taken)}", **said))
        yield {"id": each.id, "says": says, "settled": True, "options": [_option(other, words)]}


def _apart(one: Line, other: Line) -> float:
    return math.dist(one.end_cm, other.end_cm)


def _way(line: Line) -> str:
    return "near" if line.end_cm.y_cm < line.foot_cm.y_cm else "far"


def _option(line: Line, words: Words) -> Json:
    way = direction(line.bearing_deg.value % 360)
    return {
        "says": words.say(Saying(f"made.{_way(line)}", tilt_deg=line.tilt_deg.value, way=way)),
        "aim": {
            "tilt_deg": round(line.tilt_deg.value, 1),
            "bearing_deg": round(line.bearing_deg.value, 1) % 360,
        },
    }


# Drawn


def _drawn(
    found: Measured, plan: Plan | None, views: list[int], names: Mapping[str, str], words: Words
) -> Json:
    """Over each picture, by the number of its view: the lines as measured, and the plan's."""
    from nejime.photo.ghost import traces

    drawn = {}
    for at, camera in zip(views, found.cameras, strict=True):
        lines = [
            {"id": each.id, "name": names[each.id], "points": _line_px(each.line, camera)}
            for each in found.stems
            if each.line is not None
        ]
        ghost = [
            {"id": each.id, "name": _planned(each.id, words), "points": _px(each.points_px)}
            for each in (traces(plan.piece, camera) if plan else ())
        ]
        drawn[str(at)] = {"lines": lines, "ghost": ghost}
    return drawn


def _planned(stem_id: str, words: Words) -> str:
    """What stands beside a planned line: nothing at the small ones, which stand close together."""
    if stem_id not in MAIN:
        return ""
    return words.say(Saying("made.planned-stem", stem=stem_name(stem_id)))


def _line_px(line: Line, camera: Camera) -> list[list[float]]:
    ends = camera.project([line.foot_cm, line.end_cm])
    return _px([tuple(each) for each in ends if np.all(np.isfinite(each))])


def _px(points: Any) -> list[list[float]]:
    return [[round(float(x), 1), round(float(y), 1)] for x, y in points]


def _space(found: Measured, plan: Plan | None, content: Mapping[str, Any], words: Words) -> Json:
    """The piece in space as the stage draws it, and the plan's lines; none where it cannot be.

    `drawn_as`: which plant is drawn where nobody has said what the stems are.
    """
    from nejime.desk.arrange import on_table
    from nejime.desk.made.piece import as_design
    from nejime.drawings.wire import wire

    if all(each.line is None for each in found.stems):
        return {"wire": None, "dashed": [], "drawn_as": ""}
    try:
        tree = as_design(found, content, plan.plants if plan else {})
        table = on_table(tree)
    except InputError:
        return {"wire": None, "dashed": [], "drawn_as": ""}
    planned = plan.piece.stems if plan else ()
    named = plan or any(each.get("plant") for each in content.get("stems", {}).values())
    usual = "" if named else plant_name(tree["stems"][0]["plant"])
    return {
        "wire": wire(table.scene(), glaze=table.made.glaze, season=table.made.season),
        "dashed": [{"from": list(each.start), "to": list(each.end)} for each in planned],
        "drawn_as": words.say(Saying("made.drawn-as", plant=usual)) if usual else "",
    }

"""Measure a piece in its pictures, as a request describes them.

The result is told as a small table in a teacher's words, or as values with their intervals.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from nejime import __version__
from nejime.basis.angles import compass_word
from nejime.basis.sayings import Saying, Words
from nejime.desk.answers import finite, rounded
from nejime.desk.read_file import read_file
from nejime.desk.tell import columns
from nejime.forms.rules import MAIN
from nejime.forms.stems import stem_name
from nejime.photo.answer import Interval, Line, Measured, MeasuredStem
from nejime.photo.asked import Rim
from nejime.photo.camera import Camera
from nejime.photo.measuring import measure
from nejime.reading.measuring import Picture, read_request, read_request_text

USUAL_POINTS = 6  # [own] five make an ellipse, and the sixth shows whether they are right
LEAST_SAID_CM = 0.5  # lengths are said to the half centimetre
LEAST_SAID_DEG = 1.0
VAGUE_DEG = 45.0  # [own] a direction less sure than its word is none
UPRIGHT_DEG = 5.0  # [own] a stem that leans less has no direction that anybody sees


@dataclass(frozen=True, slots=True)
class Looked:
    """What pictures say of a piece, and what is to be known of the pictures."""

    measured: Measured
    remarks: tuple[Saying, ...]


def measure_request(path: Path) -> Looked:
    """What a request's pictures say. Raises `InputError` with every fault of the request."""
    tree = read_request_text(str(path), read_file(path))
    remarks: list[Saying] = []

    def picture(name: str) -> Picture:
        found, said = _picture(path.parent / name)
        remarks.extend(Saying("measure.of-picture", image=name, says=each) for each in said)
        return found

    asked = read_request(tree, picture)
    remarks.extend(
        Saying("measure.few-points", picture=number, count=len(view.rim))
        for number, view in enumerate(asked.views, start=1)
        if asked.rim.shape == "round" and len(view.rim) < USUAL_POINTS
    )
    found = measure(asked)
    return Looked(found, (*remarks, *found.remarks))


def _picture(path: Path) -> tuple[Picture, tuple[Saying, ...]]:
    """What a picture's file says of itself, and what is to be known of it."""
    from nejime.photo.markers import card_of  # a request without pictures needs no library
    from nejime.photo.picture import MOST_BYTES, opened

    picture = opened(read_file(path, MOST_BYTES))
    card = card_of(picture)
    said = (
        () if card.markers else picture.remarks
    )  # they are of the focal length: the card tells it
    said += (Saying("measure.mirrored-card"),) if card.mirrored else ()
    found = Picture(picture.width_px, picture.height_px, picture.focal_35mm, card.markers)
    return found, said


def measured_answer(looked: Looked, words: Words) -> dict[str, Any]:
    """What was measured as a dictionary; null where a value is not known."""
    found = looked.measured
    return {
        "nejime": __version__,
        "vessel": _rim_answer(found.rim),
        "cameras": [_camera_answer(each) for each in found.cameras],
        "stems": [stem_answer(each) for each in found.stems],
        "remarks": [words.say(each) for each in looked.remarks],
    }


def _rim_answer(rim: Rim) -> dict[str, Any]:
    if rim.shape == "round":
        sides = {"rim_diameter_cm": rounded(rim.width_cm)}
    else:
        sides = {"rim_width_cm": rounded(rim.width_cm), "rim_depth_cm": rounded(rim.depth_cm)}
    return {"shape": rim.shape, **sides, "height_cm": rounded(rim.height_cm)}


def _camera_answer(camera: Camera) -> dict[str, Any]:
    return {
        "width": camera.width_px,
        "height": camera.height_px,
        "focal_px": finite(camera.focal_px),
        "focal_35mm": finite(camera.focal_35mm),
        "centre_cm": [finite(each) for each in camera.centre_cm],
    }


def stem_answer(stem: MeasuredStem) -> dict[str, Any]:
    """One stem as a dictionary; `or` is there only where nothing decides between two lines."""
    answer: dict[str, Any] = {"id": stem.id, "status": stem.status}
    answer |= _line_answer(stem.line)
    if stem.other is not None:
        answer["or"] = _line_answer(stem.other)
    return answer | {
        "picture_lean_deg": [_interval(each) for each in stem.picture_lean_deg],
        "bow": _interval(stem.bow, places=4),
    }


def _line_answer(line: Line | None) -> dict[str, Any]:
    if line is None:
        return dict.fromkeys(("tilt_deg", "bearing_deg", "length_cm", "foot_cm", "end_cm"))
    return {
        "tilt_deg": _interval(line.tilt_deg),
        "bearing_deg": _interval(line.bearing_deg),
        "length_cm": _interval(line.length_cm),
        "foot_cm": [rounded(each) for each in line.foot_cm],
        "end_cm": [rounded(each) for each in line.end_cm],
    }


def _interval(told: Interval | None, places: int = 2) -> dict[str, float] | None:
    if told is None or not math.isfinite(told.value + told.low + told.high):
        return None
    return {key: round(getattr(told, key), places) + 0.0 for key in ("value", "low", "high")}


def measured_text(looked: Looked, words: Words) -> str:
    """What was measured as a teacher would note it down."""
    found = looked.measured
    keys = ("stem", "lean", "direction", "length", "in-picture")
    rows = [[words.say(Saying(f"measure.head-{key}")) for key in keys]]
    for stem in found.stems:
        rows += _rows(stem, words)
    head = Saying(
        f"measure.of-{found.rim.shape}",
        width_cm=found.rim.width_cm,
        depth_cm=found.rim.depth_cm,
        height_cm=found.rim.height_cm,
        count=len(found.cameras),
    )
    lines = [words.say(head), "", *columns(rows)]
    said = dict.fromkeys(each.status for each in found.stems if each.status != "measured")
    notes = [Saying(f"measure.note-{status.replace(' ', '-')}") for status in said]
    if any(each.line is not None for each in found.stems):
        notes.append(Saying(f"measure.seen-{found.rim.shape}"))
    told = [words.say(each) for each in (*notes, *looked.remarks)]
    return "\n".join([*lines, "", *dict.fromkeys(told)])


def _rows(stem: MeasuredStem, words: Words) -> list[list[str]]:
    """One row, two where nothing decides between two lines."""
    name = words.say(stem_name(stem.id)) if stem.id in MAIN else stem.id
    leans = ", ".join(
        _in_picture(each, words) if each is not None else words.say(Saying("measure.not-marked"))
        for each in stem.picture_lean_deg
    )
    if stem.line is None or stem.status == "not measurable":
        word = words.say(Saying(f"measure.{stem.status.replace(' ', '-')}"))
        return [[name, word, "", "", leans]]
    rows = [[name, *_line_cells(stem.line, words), leans]]
    if stem.other is not None:
        rows.append([words.say(Saying("measure.or")), *_line_cells(stem.other, words), ""])
    return rows


def _line_cells(line: Line, words: Words) -> list[str]:
    lean, length = line.tilt_deg, line.length_cm
    return [
        _give_or_take(lean, "deg", words),
        _direction(line, words),
        _give_or_take(length, "cm", words),
    ]


def _direction(line: Line, words: Words) -> str:
    """Where a stem points; of one that is nearly upright nobody sees it."""
    if line.tilt_deg.value < UPRIGHT_DEG:
        return words.say(Saying("measure.no-direction"))
    if line.bearing_deg.half > VAGUE_DEG:
        return words.say(Saying("measure.lean-only"))
    word = Saying(f"direction.{compass_word(line.bearing_deg.value)}")
    told = _give_or_take(_within_turn(line.bearing_deg), "deg", words)
    return words.say(Saying("measure.direction", word=word, bearing=told))


def _within_turn(told: Interval) -> Interval:
    """The same bearing, said as 0° where it would be said as 360°."""
    over = 360.0 if told.value > 359.5 else 0.0
    return Interval(told.value - over, told.low - over, told.high - over)


def _in_picture(told: Interval, words: Words) -> str:
    if told.half > VAGUE_DEG:
        return words.say(Saying("measure.lean-only"))
    side = "right" if told.value > 0 else "left"
    flat = Interval(abs(told.value), abs(told.value) - told.half, abs(told.value) + told.half)
    return words.say(Saying(f"measure.to-the-{side}", lean=_give_or_take(flat, "deg", words)))


def _give_or_take(told: Interval, unit: str, words: Words) -> str:
    """A value with what it may be more or less, never less than what is said of such values."""
    least = LEAST_SAID_CM if unit == "cm" else LEAST_SAID_DEG
    wide = max(told.high - told.value, told.value - told.low, least)
    value, more = (words.quantity(f"value_{unit}", each) for each in (told.value, wide))
    return words.say(Saying("measure.give-or-take", value=value, more=more))

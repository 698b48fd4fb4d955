"""The numbers of a measured stem as they are said: each with its ±, in the reader's units."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from nejime.basis.sayings import Saying, Words
from nejime.basis.units import CM_PER_INCH, as_said_cm
from nejime.forms.stems import stem_name
from nejime.papers.wording import direction, sentence
from nejime.photo.answer import Interval, MeasuredStem
from nejime.photo.differences import LEVEL_DEG, StemCompared

UPRIGHT_DEG = 3.0  # [own] what leans less is called upright
LEAST_HALF_DEG, LEAST_HALF_CM = 1.0, 0.5  # [own] a smaller ± is not said
WIDEST_WAY_DEG = 60.0  # [own] a direction that is less sure is not known
WIDEST_IN_PICTURE_DEG = 20.0  # [own] nor a lean in a picture


@dataclass(frozen=True, slots=True)
class StemSaid:
    """One stem's numbers as they are said, each with its ±, and what was meant; empty where it is
    not known. `note`: what to know of it, such as the other answer."""

    id: str
    name: str
    status: str
    lean: str = ""
    direction: str = ""
    length: str = ""
    aim_lean: str = ""
    aim_direction: str = ""
    aim_length: str = ""
    note: str = ""


def step_cm(made_cm: float, aim_cm: float, words: Words) -> float:
    """The difference of two lengths as both are said, so that what is said adds up."""
    if words.unit == "in":
        made, aim = (round(each / CM_PER_INCH * 4.0) / 4.0 for each in (made_cm, aim_cm))
        return (made - aim) * CM_PER_INCH
    return as_said_cm(made_cm) - as_said_cm(aim_cm)


def leaning(lean_deg: float) -> Saying:
    """A lean in a picture: to the right, to the left, or upright; only the side where the line ends
    lower than it begins, because it comes towards the camera or hangs."""
    if abs(lean_deg) < UPRIGHT_DEG:
        return Saying("made.says.upright")
    side = Saying(f"nudge.side.{'right' if lean_deg > 0 else 'left'}")
    if abs(lean_deg) > LEVEL_DEG:
        return Saying("made.says.downward", side=side)
    return Saying("made.says.leaning", lean_deg=abs(lean_deg), side=side)


def stem_said(
    made: MeasuredStem,
    compared: StemCompared | None,
    words: Words,
    names: Mapping[str, str] | None = None,
) -> StemSaid:
    """One stem's numbers, with its plan's where it has one; `names` are of stems that have one of
    their own."""
    name = (names or {}).get(made.id) or words.say(stem_name(made.id))
    aim = compared.aim if compared is not None else None
    known = made.line if made.status in ("measured", "two answers") else None
    lean = _in_picture_said(made, words) if known is None else _degrees(known.tilt_deg, words)
    return StemSaid(
        id=made.id,
        name=sentence(name),
        status=words.say(Saying(f"made.says.status.{_status(made, lean)}")),
        lean=lean,
        direction=_pointing(known.tilt_deg, known.bearing_deg, words) if known else "",
        length=_length_said(known.length_cm, words) if known else "",
        aim_lean=_aim_lean(compared, known is None, words) if compared else "",
        aim_direction=words.say(_way(aim.bearing_deg)) if aim and known else "",
        aim_length=words.quantity("aim_cm", aim.length_cm) if aim and known else "",
        note=_note(made, words),
    )


def _status(made: MeasuredStem, lean: str) -> str:
    """How far it could be measured; of a line too unsure the lean in the picture is left."""
    if made.status in ("not measurable", "lean only"):
        return "lean-only" if lean else "not-measurable"
    return made.status.replace(" ", "-")


def numbers_said(
    stem_id: str, tilt: Interval, bearing: Interval, length: Interval, words: Words
) -> StemSaid:
    """The numbers of a stem that was measured once, each with its ±."""
    return StemSaid(
        id=stem_id,
        name=sentence(words.say(stem_name(stem_id))),
        status=words.say(Saying("made.says.status.measured")),
        lean=_degrees(tilt, words),
        direction=_pointing(tilt, bearing, words),
        length=_length_said(length, words),
    )


def _aim_lean(compared: StemCompared, in_picture: bool, words: Words) -> str:
    if not in_picture:
        return words.quantity("aim_deg", compared.aim.stands_deg)
    if compared.in_picture is None:
        return ""
    return words.say(leaning(compared.in_picture.aim))


def _in_picture_said(made: MeasuredStem, words: Words) -> str:
    """The lean in the first picture in which a stem was marked."""
    lean = next((each for each in made.picture_lean_deg if each is not None), None)
    if lean is None or lean.half > WIDEST_IN_PICTURE_DEG:
        return ""
    if abs(lean.value) > LEVEL_DEG:
        return words.say(leaning(lean.value))
    half = max(math.ceil(lean.half), LEAST_HALF_DEG)
    return words.say(Saying("made.says.plus-minus", value=leaning(lean.value), half_deg=half))


def _degrees(found: Interval, words: Words) -> str:
    half = max(math.ceil(found.half - 0.05), LEAST_HALF_DEG)
    said = words.quantity("value_deg", found.value)
    return words.say(Saying("made.says.plus-minus", value=said, half_deg=half))


def _pointing(tilt: Interval, bearing: Interval, words: Words) -> str:
    """A direction in words and degrees; an upright line has none."""
    if tilt.value < UPRIGHT_DEG:
        return words.say(Saying("made.says.upright"))
    if bearing.half > WIDEST_WAY_DEG:
        return words.say(Saying("made.says.unknown"))
    half = max(math.ceil(bearing.half - 0.05), LEAST_HALF_DEG)
    return words.say(_way(bearing.value, half_deg=half))


def _way(bearing_deg: float, **half: float) -> Saying:
    """A direction as the word that is nearest, and in degrees, with its ± where it has one."""
    clockwise = round(bearing_deg) % 360
    key = f"made.says.pointing{'-within' if half else ''}"
    return Saying(key, way=direction(clockwise), bearing_deg=clockwise, **half)


def _length_said(found: Interval, words: Words) -> str:
    said = words.quantity("value_cm", found.value)
    half = max(found.half, LEAST_HALF_CM)
    return words.say(Saying("made.says.plus-minus-long", value=said, half_cm=half))


def _note(made: MeasuredStem, words: Words) -> str:
    """The other answer where two are possible."""
    other = made.other
    if made.status != "two answers" or other is None:
        return ""
    return words.say(
        Saying(
            "made.says.or",
            tilt_deg=other.tilt_deg.value,
            direction=direction(other.bearing_deg.value % 360.0),
            length_cm=other.length_cm.value,
        )
    )

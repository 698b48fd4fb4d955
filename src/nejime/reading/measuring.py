"""A vessel and what was marked in pictures of it, into what is asked of the measuring.

Model: `vessel`, `holder` and one to four `views`, as a JSON file or a kept piece has them. A view
names its picture (`image`) or tells the picture's size and focal length. Everything is a plain
number: pixels in display orientation, centimetres, degrees.
Frame: `nejime.photo.asked`.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from typing import Annotated, Any

from pydantic import BeforeValidator

from nejime.basis.errors import InputError
from nejime.basis.places import Path
from nejime.photo.asked import Asked, Known, Marker, Pins, Pixel, Rim, RimShape, StemMarks, View
from nejime.photo.card import PATTERNS
from nejime.reading.checking import Sheet
from nejime.reading.fields import Table, number, one_of, point, shown, whole, words, wrong
from nejime.reading.json_file import read_json
from nejime.reading.points import apart, crossing, flatness
from nejime.reading.text import read_bytes

SHAPES: tuple[RimShape, ...] = ("round", "rectangle")
MOST_VIEWS = 4  # [own] more pictures of one piece add nothing
MOST_STEMS = 60  # [own] more do not go on any pin holder
FEWEST_RIM_POINTS = 5  # five points make an ellipse
MOST_RIM_POINTS = 200  # [own]
CORNERS = 4
# [own] Limits wide enough for any vessel in a library; beyond them a slip is likelier than intent.
LEAST_RIM_CM, MOST_RIM_CM = 3.0, 200.0
LEAST_HEIGHT_CM, MOST_HEIGHT_CM = 0.5, 150.0
LEAST_STEM_CM, MOST_STEM_CM = 2.0, 300.0
MOST_OFF_CM = 100.0
LEAST_PINS_CM, MOST_PINS_CM = 0.1, 30.0
LEAST_PX, MOST_PX = 100, 30_000
LEAST_FOCAL_MM, MOST_FOCAL_MM = 8.0, 400.0
BESIDE = 0.5  # [own] as far beyond the picture's edge as half its size, a mark may lie
THINNEST = 0.004  # [own] a rim seen flatter than this, over its width, is a line

IMAGE_LETTERS, ID_LETTERS = 500, 40


@dataclass(frozen=True, slots=True)
class Picture:
    """What a picture itself says: its size in display orientation, and what was found in it."""

    width_px: int
    height_px: int
    focal_35mm: float | None = None
    card: tuple[Marker, ...] = ()


Pictures = Callable[[str], Picture]
"""What a named picture says of itself. Raises `InputError`."""


def centimetres(least_cm: float, most_cm: float) -> BeforeValidator:
    """A plain number of centimetres."""

    def check(value: Any) -> float:
        if isinstance(value, bool) or not isinstance(value, int | float):
            raise wrong("reading.measuring.not-plain-cm", typed=shown(value))
        if isinstance(value, float) and not math.isfinite(value):
            raise wrong("reading.not-measurable", typed=shown(value))
        if not least_cm <= value <= most_cm:
            raise wrong(
                "reading.measuring.cm-outside",
                value=shown(value),
                least_cm=least_cm,
                most_cm=most_cm,
            )
        return float(value)

    return BeforeValidator(check)


def _as_whole(value: Any) -> Any:
    """4032.0 as 4032; JSON knows no difference."""
    return int(value) if isinstance(value, float) and value.is_integer() else value


Px = Annotated[float, number(-10.0 * MOST_PX, 10.0 * MOST_PX)]
At = Annotated[tuple[Px, Px], point(2)]
Points = tuple[At, ...]
Off = Annotated[float, centimetres(-MOST_OFF_CM, MOST_OFF_CM)]
RimCm = Annotated[float, centimetres(LEAST_RIM_CM, MOST_RIM_CM)]
Sides = Annotated[int, whole(LEAST_PX, MOST_PX), BeforeValidator(_as_whole)]


class RimTable(Table):
    """`vessel`: its rim, measured outside."""

    shape: Annotated[RimShape, one_of(SHAPES)]
    rim_diameter_cm: RimCm | None = None
    rim_width_cm: RimCm | None = None
    rim_depth_cm: RimCm | None = None
    height_cm: Annotated[float, centimetres(LEAST_HEIGHT_CM, MOST_HEIGHT_CM)]


class PinsTable(Table):
    """`holder`: where stems enter the pin holder, as far as it is known."""

    x_cm: Off | None = None
    y_cm: Off | None = None
    height_cm: Annotated[float, centimetres(0.0, MOST_HEIGHT_CM)] | None = None
    radius_cm: Annotated[float, centimetres(LEAST_PINS_CM, MOST_PINS_CM)] | None = None


class MarksTable(Table):
    """One of a view's `stems`: its marks, and what is known of it."""

    id: Annotated[str, words(ID_LETTERS, blank=False)]
    tip: At
    base: At | None = None
    mid: At | None = None
    cut_length_cm: Annotated[float, centimetres(LEAST_STEM_CM, MOST_STEM_CM)] | None = None
    aim_tilt_deg: Annotated[float, number(0.0, 180.0)] | None = None
    aim_bearing_deg: Annotated[float, number(-360.0, 360.0)] | None = None


class MarkerTable(Table):
    """One of a view's `card`: a marker that was found in its picture."""

    id: Annotated[int, whole(0, max(PATTERNS))]
    corners: tuple[At, At, At, At]


class ViewTable(Table):
    """One of `views`; its stems and markers are checked by themselves."""

    image: Annotated[str, words(IMAGE_LETTERS, blank=False)] | None = None
    width: Sides | None = None
    height: Sides | None = None
    focal_35mm: Annotated[float, number(0.0, 1e6)] | None = None
    rim: Points | None = None
    corners: Points | None = None
    stems: tuple[object, ...] = ()
    card: tuple[object, ...] | None = None


class RequestTable(Table):
    """A whole request; its parts are checked by themselves."""

    vessel: object
    holder: object = None
    views: tuple[object, ...]


def read_request_text(file: str, data: bytes) -> Any:
    """The values of a request's file, not checked yet. Raises `InputError`."""
    return read_json(file, read_bytes(file, data))


def read_request(tree: Any, pictures: Pictures) -> Asked:
    """What a request asks. Raises `InputError` with every fault, each with its place."""
    found = Sheet("", {}, {})
    table = found.checked(RequestTable, tree, ())
    if table is None:
        raise InputError(found.faults)
    rim = _rim(found, table.vessel)
    pins = Pins()
    if table.holder is not None:
        told = found.checked(PinsTable, table.holder, ("holder",))
        pins = Pins(**told.model_dump()) if told is not None else pins
    if not 1 <= len(table.views) <= MOST_VIEWS:
        found.wrong(("views",), "reading.measuring.views", number=len(table.views), most=MOST_VIEWS)
    known: dict[str, Known] = {}
    views = [
        _view(found, each, ("views", at), _shape(table.vessel), pictures, known)
        for at, each in enumerate(table.views[:MOST_VIEWS])
    ]
    if found.faults or rim is None:
        raise InputError(found.faults)
    return Asked(rim, tuple(each for each in views if each is not None), pins, tuple(known.items()))


def _shape(vessel: object) -> str:
    return str(vessel.get("shape")) if isinstance(vessel, dict) else ""


def _rim(found: Sheet, value: object) -> Rim | None:
    table = found.checked(RimTable, value, ("vessel",))
    if table is None:
        return None
    sides = {
        "rim_diameter_cm": table.rim_diameter_cm,
        "rim_width_cm": table.rim_width_cm,
        "rim_depth_cm": table.rim_depth_cm,
    }
    needed = ["rim_diameter_cm"] if table.shape == "round" else ["rim_width_cm", "rim_depth_cm"]
    for key, side in sides.items():
        if key in needed and side is None:
            found.wrong(("vessel", key), "reading.missing", key=key)
        if key not in needed and side is not None:
            found.wrong(("vessel", key), f"reading.measuring.not-{table.shape}")
    width, depth = sides[needed[0]], sides[needed[-1]]
    if width is None or depth is None:
        return None
    return Rim(table.shape, width, depth, table.height_cm)


def _view(
    found: Sheet, value: object, at: Path, shape: str, pictures: Pictures, known: dict[str, Known]
) -> View | None:
    """One view; what its stems are known by joins `known`."""
    table = found.checked(ViewTable, value, at)
    if table is None:
        return None
    picture = _picture(found, table, at, pictures)
    rim = _edge(found, table, at, shape)
    if not table.stems:
        found.wrong((*at, "stems"), "reading.measuring.no-stems")
    if len(table.stems) > MOST_STEMS:
        count = len(table.stems)
        found.wrong((*at, "stems"), "reading.too-many-stems", count=count, most=MOST_STEMS)
    stems = tuple(_stems(found, table, at, known))
    markers = tuple(_markers(found, table, at))
    if picture is None:
        return None
    for place, mark in _marks(table):
        _check_inside(found, mark, (*at, *place), picture)
    return View(
        picture.width_px,
        picture.height_px,
        picture.focal_35mm,
        rim,
        stems,
        picture.card if table.card is None else markers,
    )


def _picture(found: Sheet, table: ViewTable, at: Path, pictures: Pictures) -> Picture | None:
    """The view's size and focal length, as its picture says or as they were written."""
    written = _focal(found, table, at)
    if table.image is None:
        if table.width is None and table.height is None:
            found.wrong(at, "reading.measuring.no-size", key="focal_35mm")
        for key, side in (("width", table.width), ("height", table.height)):
            if side is None and (table.width or table.height):
                found.wrong((*at, key), "reading.missing", key=key)
        if table.width is None or table.height is None:
            return None
        return Picture(table.width, table.height, written)
    try:
        picture = pictures(table.image)
    except InputError as trouble:
        for each in trouble.faults:
            found.add((*at, "image"), each.says, each.try_instead)
        return None
    for key, side, is_px in (
        ("width", table.width, picture.width_px),
        ("height", table.height, picture.height_px),
    ):
        if side is not None and side != is_px:
            found.wrong((*at, key), "reading.measuring.other-size", typed=side, is_px=is_px)
    return picture if written is None else replace(picture, focal_35mm=written)


def _focal(found: Sheet, table: ViewTable, at: Path) -> float | None:
    """The focal length as it was written; 0 is how a picture says that it does not know.

    Source: FocalLengthIn35mmFilm, where 0 means unknown [cipa-exif].
    """
    if not table.focal_35mm:
        return None
    if not LEAST_FOCAL_MM <= table.focal_35mm <= MOST_FOCAL_MM:
        found.wrong(
            (*at, "focal_35mm"),
            "reading.measuring.lens",
            typed=shown(table.focal_35mm),
            least=f"{LEAST_FOCAL_MM:g}",
            most=f"{MOST_FOCAL_MM:g}",
        )
    return table.focal_35mm


def _edge(found: Sheet, table: ViewTable, at: Path, shape: str) -> tuple[Pixel, ...]:
    """The points on the rim, or its corners."""
    if shape not in SHAPES:
        return ()
    key, other = ("rim", "corners") if shape == "round" else ("corners", "rim")
    points = table.rim if key == "rim" else table.corners
    if (table.corners if key == "rim" else table.rim) is not None:
        found.wrong((*at, other), f"reading.measuring.{other}-of-{shape}")
    elif points is None:
        found.wrong((*at, key), f"reading.measuring.no-{key}")
    if points is None:
        return ()
    told = {"count": len(points), "fewest": FEWEST_RIM_POINTS, "most": MOST_RIM_POINTS}
    lone = apart(points[: MOST_RIM_POINTS + 1])
    if key == "corners" and (len(points) != CORNERS or len(lone) != CORNERS):
        found.wrong((*at, key), "reading.measuring.four-corners", count=len(lone))
    elif key == "corners" and crossing(points):
        found.wrong((*at, key), "reading.measuring.corners-cross")
    elif len(lone) < FEWEST_RIM_POINTS and key == "rim":
        found.wrong((*at, key), "reading.measuring.few-points", **told | {"count": len(lone)})
    elif len(points) > MOST_RIM_POINTS:
        found.wrong((*at, key), "reading.measuring.many-points", **told)
    elif flatness(points) < THINNEST:
        found.wrong((*at, key), "reading.measuring.line")
    return points


def _stems(
    found: Sheet, table: ViewTable, at: Path, known: dict[str, Known]
) -> Iterator[StemMarks]:
    """The marks of each stem that is right; what it is known by joins `known`."""
    for count, each in enumerate(table.stems[:MOST_STEMS]):
        place = (*at, "stems", count)
        stem = found.checked(MarksTable, each, place)
        if stem is not None:
            _join(found, stem, place, known)
            yield StemMarks(stem.id, stem.tip, stem.base, stem.mid)
    _check_ids(found, table.stems[:MOST_STEMS], at)


def _join(found: Sheet, stem: MarksTable, at: Path, known: dict[str, Known]) -> None:
    """Joins what is known of a stem to what other views say; a contradiction is a fault."""
    before = known.get(stem.id, Known())
    told = {}
    for key in ("cut_length_cm", "aim_tilt_deg", "aim_bearing_deg"):
        was, now = getattr(before, key), getattr(stem, key)
        if was is not None and now is not None and was != now:
            found.wrong((*at, key), "reading.measuring.two-values", id=stem.id, was=was, now=now)
        told[key] = was if now is None else now
    known[stem.id] = Known(**told)


def _check_ids(found: Sheet, stems: tuple[object, ...], at: Path) -> None:
    seen: set[str] = set()
    for count, each in enumerate(stems):
        stem_id = each.get("id") if isinstance(each, dict) else None
        if not isinstance(stem_id, str):
            continue
        plain = " ".join(stem_id.split())
        if plain in seen:
            place = (*at, "stems", count, "id")
            found.wrong(place, "reading.measuring.stem-twice", id=shown(plain))
        seen.add(plain)


def _markers(found: Sheet, table: ViewTable, at: Path) -> Iterator[Marker]:
    seen: set[int] = set()
    for count, each in enumerate(table.card or ()):
        marker = found.checked(MarkerTable, each, (*at, "card", count))
        if marker is None:
            continue
        if marker.id in seen:
            found.wrong((*at, "card", count, "id"), "reading.measuring.marker-twice", id=marker.id)
        seen.add(marker.id)
        yield Marker(marker.id, marker.corners)


def _marks(table: ViewTable) -> Iterator[tuple[Path, Any]]:
    """Every place in the picture that the view names, by where it stands."""
    for key, points in (("rim", table.rim), ("corners", table.corners)):
        yield from (((key, count), each) for count, each in enumerate(points or ()))
    for count, stem in enumerate(table.stems[:MOST_STEMS]):
        if isinstance(stem, dict):
            yield from ((("stems", count, key), stem.get(key)) for key in ("tip", "base", "mid"))


def _check_inside(found: Sheet, mark: Any, at: Path, picture: Picture) -> None:
    """A mark far beyond the picture's edge belongs to another picture or another size of it."""
    if not isinstance(mark, list | tuple) or len(mark) != 2:
        return
    for value, size in zip(mark, (picture.width_px, picture.height_px), strict=True):
        if isinstance(value, bool) or not isinstance(value, int | float) or value != value:
            return
        if not -BESIDE * size <= value <= (1.0 + BESIDE) * size:
            found.wrong(
                at,
                "reading.measuring.beside",
                mark=", ".join(shown(each) for each in mark),
                width=picture.width_px,
                height=picture.height_px,
            )
            return

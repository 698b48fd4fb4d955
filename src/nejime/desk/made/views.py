"""The pictures of a piece that somebody made: choose, cut, turn, look at, keep, take away, snap.

Model: marks are in pixels of the whole picture. Cutting hides what is outside and changes no mark;
turning by a quarter takes the marks with it.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from typing import Any

from nejime.basis.errors import refuse
from nejime.basis.sayings import Saying
from nejime.desk.made import pictures as held
from nejime.desk.made.marks import one, shown
from nejime.desk.made.pictures import Pictures, Working
from nejime.desk.settings import words_for
from nejime.desk.shelf import Conflict, Kept, Missing, Shelf
from nejime.reading.marks import MOST_VIEWS, number

MOST_BYTES = 60_000_000  # [own] as large as a picture may be
HEAVY = Saying("made.heavy", most=MOST_BYTES // 1_000_000)
LEAST_BOX = 0.05  # [own] of the picture's side: less shows no vessel
PARTS = ("tip", "base", "mid")
Json = dict[str, Any]
Box = tuple[float, float, float, float]


def choose(
    shelf: Shelf, pictures: Pictures, about: int, at: int, data: bytes, today: dt.date
) -> Json:
    """A picture for a view: the first, the second, or one in its place. Marks that were made on a
    picture of the same size stay. Raises `Missing`, `InputError` at `picture`."""
    from nejime.photo.picture import prepared

    kept = one(shelf, about)
    if not 0 <= at <= min(len(kept.content["views"]), MOST_VIEWS - 1):
        raise refuse("picture", "made.two-pictures", "made.two-pictures-try")
    made = prepared(data)
    whole: Box = (0.0, 0.0, float(made.width_px), float(made.height_px))
    working = Working(made.jpeg, whole)
    views = list(kept.content["views"])
    before = views[at] if at < len(views) else {}
    same = (before.get("width"), before.get("height")) == (made.width_px, made.height_px)
    if same and before.get("cropped"):
        working = _cut(working, tuple(before["cropped"]))
    card, mirrored = _card(made)
    rim = "corners" if kept.content["vessel"]["shape"] == "rectangle" else "rim"
    marks = {key: before[key] for key in (rim, "stems", "pins", "cropped") if key in before}
    view: Json = {
        "width": made.width_px,
        "height": made.height_px,
        "focal_35mm": made.focal_35mm,
        rim: [],
        "stems": [],
        **(marks if same else {}),
        "card": card,
        "picture": pictures.hold(working),
        "remarks": [each.key for each in made.remarks if not each.quantities],
    }
    if mirrored:
        view["remarks"].append("made.card-mirrored")
    views[at:] = [view, *views[at + 1 :]]
    return _saved(shelf, pictures, kept, views, today)


def _card(made: Any) -> tuple[list[Json], bool]:
    """The markers of the card, in pixels of the whole picture, and whether it is a mirrored one."""
    from nejime.photo.markers import card_of

    found = card_of(made.opened)
    markers = [
        {"id": each.id, "corners": [[round(x, 3), round(y, 3)] for x, y in each.corners]}
        for each in found.markers
    ]
    return markers, found.mirrored


def _cut(working: Working, box: Any) -> Working:
    """The part of a working picture inside a box (left, top, width, height) of the whole picture.

    Raises `InputError`.
    """
    from nejime.photo.picture import cropped

    left, top, wide, high = working.box
    across, down = size_of(working)
    per_x, per_y = across / wide, down / high
    x0, y0 = max(0, int((box[0] - left) * per_x)), max(0, int((box[1] - top) * per_y))
    x1 = min(across, round((box[0] + box[2] - left) * per_x))
    y1 = min(down, round((box[1] + box[3] - top) * per_y))
    jpeg = cropped(working.jpeg, (x0, y0, x1, y1))
    shown_box = (left + x0 / per_x, top + y0 / per_y, (x1 - x0) / per_x, (y1 - y0) / per_y)
    return Working(jpeg, shown_box)


def size_of(working: Working) -> tuple[int, int]:
    """Width and height of a working picture in its own pixels."""
    from nejime.photo.picture import opened

    known = opened(working.jpeg)
    return known.width_px, known.height_px


def crop(
    shelf: Shelf, pictures: Pictures, about: int, at: int, told: Mapping[str, Any], today: dt.date
) -> Json:
    """Only this part of the picture is shown and kept from now on.

    Raises `Missing`, `InputError` at `picture`.
    """
    kept, view, working = _there(shelf, pictures, about, at)
    wide, high = view["width"], view["height"]
    left = number(told.get("left"), 0, wide)
    top = number(told.get("top"), 0, high)
    right = number(told.get("right"), 0, wide)
    low = number(told.get("bottom"), 0, high)
    if right - left < LEAST_BOX * wide or low - top < LEAST_BOX * high:
        raise refuse("picture", "made.little-box", "made.little-box-try")
    box = [left, top, right - left, low - top]
    new = {**view, "cropped": box}
    new["picture"] = _instead(shelf, pictures, view, _cut(working, box))
    return _saved(shelf, pictures, kept, _with(kept, at, new), today)


def turn(shelf: Shelf, pictures: Pictures, about: int, at: int, today: dt.date) -> Json:
    """A quarter turn clockwise, marks and all. Raises `Missing`, `InputError`."""
    from nejime.photo.picture import turned

    kept, view, working = _there(shelf, pictures, about, at)
    high = view["height"]
    left, top, across, down = working.box
    box = (high - top - down, left, down, across)
    name = _instead(shelf, pictures, view, Working(turned(working.jpeg, 1), box))
    new = {**view, "width": high, "height": view["width"], "picture": name}
    for key in ("rim", "corners"):
        if key in view:
            new[key] = [_turned(each, high) for each in view[key]]
    new["stems"] = [
        {key: _turned(value, high) if key in PARTS else value for key, value in stem.items()}
        for stem in view["stems"]
    ]
    if view.get("pins"):
        new["pins"] = _turned(view["pins"], high)
    new["card"] = [
        {**marker, "corners": [_turned(each, high) for each in marker["corners"]]}
        for marker in view.get("card", ())
    ]
    if "cropped" in view:
        left, top, across, down = view["cropped"]
        new["cropped"] = [high - top - down, left, down, across]
    return _saved(shelf, pictures, kept, _with(kept, at, new), today)


def _turned(point: Any, height: float) -> list[float]:
    x, y = point
    return [round(height - 1 - y, 3), x]


def picture(shelf: Shelf, pictures: Pictures, about: int, at: int, name: str) -> bytes:
    """The working picture of a view as JPEG. Raises `Missing`."""
    view = _view(one(shelf, about), at)
    found = held.found(shelf, pictures, name) if name == view.get("picture") else None
    if found is None:
        raise Missing("picture", at)
    return found.jpeg


def keep_pictures(
    shelf: Shelf, pictures: Pictures, about: int, today: dt.date, *, kept: bool
) -> Json:
    """Keeps the pictures beside the marks, or wipes those that are kept. Raises `Missing`."""
    made = one(shelf, about)
    for view in made.content["views"]:
        name = view.get("picture", "")
        if kept and name:
            held.keep(shelf, pictures, name)
        elif name:
            held.let_go(shelf, name)
    return shown(shelf, pictures, made, today)


def drop(shelf: Shelf, pictures: Pictures, about: int, at: int, today: dt.date) -> Json:
    """The second picture and its marks taken away. Raises `Missing`."""
    kept = one(shelf, about)
    view = _view(kept, at)
    _forget(shelf, pictures, view)
    views = [each for place, each in enumerate(kept.content["views"]) if place != at]
    return _saved(shelf, pictures, kept, views, today)


def put_away(shelf: Shelf, about: int) -> Kept:
    """Off the list; kept pictures are wiped. Raises `Missing`."""
    kept = one(shelf, about)
    for view in kept.content["views"]:
        if view.get("picture"):
            held.let_go(shelf, view["picture"])
    return shelf.remove(about)


def bring_back(shelf: Shelf, about: int) -> Kept:
    """Back on the list; its marks are there. Raises `Missing`."""
    one(shelf, about)
    return shelf.restore(about)


def snap(shelf: Shelf, pictures: Pictures, about: int, at: int) -> Json:
    """The rim's marks moved to the edge that is seen near them, as a suggestion; nothing is kept.

    Raises `Missing`, `InputError`.
    """
    from nejime.photo.picture import opened
    from nejime.photo.snapping import snapped

    _, view, working = _there(shelf, pictures, about, at)
    left, top, wide, _ = working.box
    known = opened(working.jpeg)
    per = known.grey.shape[1] / wide
    near = [((x - left + 0.5) * per - 0.5, (y - top + 0.5) * per - 0.5) for x, y in view["rim"]]
    words = words_for(shelf)
    found = snapped(known.grey, near)
    if found.refused is not None:
        return {"rim": None, "says": words.say(found.refused)}
    rim = [
        [
            round(float((x + 0.5) / per - 0.5 + left), 2),
            round(float((y + 0.5) / per - 0.5 + top), 2),
        ]
        for x, y in found.points
    ]
    says = Saying("made.snapped", tenths=round(10 * found.support))
    return {"rim": rim, "says": words.say(says)}


def _there(shelf: Shelf, pictures: Pictures, about: int, at: int) -> tuple[Kept, Json, Working]:
    """A view whose picture is at hand. Raises `Missing`, `InputError` at `picture`."""
    kept = one(shelf, about)
    view = _view(kept, at)
    working = held.found(shelf, pictures, view.get("picture", ""))
    if working is None:
        raise refuse("picture", "made.picture-gone", "made.picture-gone-try")
    return kept, view, working


def _view(kept: Kept, at: int) -> Json:
    views = kept.content["views"]
    if not 0 <= at < len(views):
        raise Missing("view", at)
    view: Json = views[at]
    return view


def _with(kept: Kept, at: int, view: Json) -> list[Json]:
    views = list(kept.content["views"])
    views[at] = view
    return views


def _instead(shelf: Shelf, pictures: Pictures, view: Mapping[str, Any], working: Working) -> str:
    """The name of a picture that stands for the one of a view; it is kept where that was kept."""
    name = pictures.hold(working)
    if held.is_kept(shelf, view.get("picture", "")):
        held.keep(shelf, pictures, name)
    _forget(shelf, pictures, view)
    return name


def _forget(shelf: Shelf, pictures: Pictures, view: Mapping[str, Any]) -> None:
    """A picture that another stands for now: not held, and not kept either."""
    name = view.get("picture", "")
    if name:
        pictures.forget(name)
        held.let_go(shelf, name)


def _saved(shelf: Shelf, pictures: Pictures, kept: Kept, views: list[Json], today: dt.date) -> Json:
    saved = shelf.save(kept.id, {**kept.content, "views": views}, kept.version)
    found = saved.theirs if isinstance(saved, Conflict) else saved
    return shown(shelf, pictures, found, today)

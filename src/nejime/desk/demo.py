"""Something to look around in: an invented class in early spring, with all that belongs to it."""

from __future__ import annotations

import datetime as dt
import tomllib
from typing import Any

from nejime.basis import tables
from nejime.desk import seen, where
from nejime.desk.classes import KEPT_KINDS, bring_in
from nejime.desk.displays import KIND as DISPLAY
from nejime.desk.made.begin import OWN
from nejime.desk.made.begin import begin as begin_to_look
from nejime.desk.made.pictures import Working, lay_down
from nejime.desk.new_class import SATURDAY
from nejime.desk.pieces import begin
from nejime.desk.settings import KIND as SETTINGS
from nejime.desk.settings import kept_settings, words_for
from nejime.desk.shelf import Kept, Shelf
from nejime.forms.holder import HOLDER_HEIGHT_CM

FILE = "demo/class.toml"
DATE = "{date}"
SAMPLE = "demo/sample.toml"
PIECE = {"line": "flowering-quince", "heart": "tulip", "leaf": "aspidistra"}
ON_DISPLAY = (("flowering-quince", 3), ("tulip", 3), ("aspidistra", 3))
PLACE = {"city": "Chicago, US", "name": "Millbrook"}
SEEN = {"forsythia": (4, 14), "flowering-quince": (4, 27)}  # invented
MARCH = 3  # early spring, as its material
OF_SETTINGS = (
    "library",
    "place",
    "zone",
    "proportions",
    "units",
    "paper",
    "currency",
    "region",
    "poison_line",
    "contact",
)
"""What the class and the settings say alike."""


def lay_out(shelf: Shelf, today: dt.date | None = None) -> Kept:
    """Keeps the class, the vessels and pin holders of its library, its garden and its shops.

    The class is on the second Saturday in March that comes next. Where it is laid out already,
    nothing is done.
    """
    day = second_saturday(today or dt.date.today())
    text = tables.read_text(FILE).replace(DATE, day.isoformat())
    title = tomllib.loads(text)["class"]["title"]
    for there in shelf.all("class"):
        if there.content.get("class", {}).get("title") == title:
            return there
    kept = bring_in(shelf, FILE, text.encode("utf-8"))
    for kind in KEPT_KINDS:
        for each in kept.content.get(kind, []):
            shelf.add(kind, str(each.get("name", each.get("plant", ""))), dict(each))
    if kept_settings(shelf) is None:
        told = kept.content["class"]
        chosen = {key: told[key] for key in OF_SETTINGS if key in told}
        shelf.only(SETTINGS, SETTINGS, chosen)
    _lay_out_piece(shelf)
    _lay_out_place(shelf, day)
    _lay_out_display(shelf, today or dt.date.today())
    _lay_out_sample(shelf, today or dt.date.today())
    return kept


def _lay_out_piece(shelf: Shelf) -> None:
    """A piece to look at, of what the class uses."""
    words = words_for(shelf)
    begin(shelf, {"vessel": "dish", "form": "upright", **PIECE}, words)


def _lay_out_place(shelf: Shelf, day: dt.date) -> None:
    """Where its garden is, and what was seen open there in the spring before."""
    if not where.place(shelf).told:
        where.keep(shelf, PLACE)
        for name, (month, number) in SEEN.items():
            seen.note(shelf, {"plant": name, "on": f"{day.year - 1}-{month:02}-{number:02}"}, day)


def _lay_out_display(shelf: Shelf, today: dt.date) -> None:
    """A piece that has stood by the entrance for two days."""
    content: dict[str, Any] = {
        "name": "By the entrance",
        "vessel": {"shape": "round", "width": 28, "height": 6},
        "glaze": "celadon",
        "water": 3.5,
        "pins": HOLDER_HEIGHT_CM,
        "room": "heated",
        "since": (today - dt.timedelta(days=2)).isoformat(),
        "until": (today + dt.timedelta(days=12)).isoformat(),
        "plant": [{"plant": name, "stems": stems} for name, stems in ON_DISPLAY],
    }
    shelf.add(DISPLAY, content["name"], content)


def _lay_out_sample(shelf: Shelf, today: dt.date) -> None:
    """A sample that was photographed twice and marked, its pictures kept beside it."""
    told = tables.read_toml(SAMPLE)
    made = begin_to_look(shelf, {**told["vessel"], "vessel": OWN, "name": told["name"]}, today)
    views = []
    for view in told["view"]:
        name = view["picture"].rpartition("/")[2]
        box = (0.0, 0.0, float(view["width"]), float(view["height"]))
        lay_down(shelf, name, Working(tables.read_bytes(view["picture"]), box))
        views.append({**view, "picture": name, "card": []})
    shelf.save(made.id, {**made.content, "views": views}, made.version)


def second_saturday(today: dt.date) -> dt.date:
    """The second Saturday of March, this year's where it is still to come."""
    for year in (today.year, today.year + 1):
        first = dt.date(year, MARCH, 1)
        day = first + dt.timedelta(days=(SATURDAY - first.weekday()) % 7 + 7)
        if day > today:
            return day
    raise AssertionError("one of two years has it")

"""What she owns and where she gets material: vessels, pin holders, garden places, shops.

Each is a document whose content is a table of a class file, with a few keys more (`typed`). They
are listed, added, changed, copied, put away and brought back all in the same way.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from typing import Any

from nejime.basis.errors import InputError, refuse
from nejime.basis.sayings import Saying, Words
from nejime.basis.units import whole_number
from nejime.desk.door import free_name, shape_tiles, unit_of
from nejime.desk.settings import settings, words_for
from nejime.desk.shelf import Conflict, Kept, Missing, Shelf
from nejime.drawings.icons import bare_icon, holder_icon
from nejime.drawings.wire import GLAZES
from nejime.forms.vessel import WARE_DENSITY_G_CM3
from nejime.material.supply import WHENCES, Shoot, Whence
from nejime.papers.wording import plant_name
from nejime.plants.table import plants
from nejime.reading import typed as read
from nejime.reading.fields import small_units
from nejime.reading.lending import plain
from nejime.reading.weekdays import day_names

KINDS = ("vessel", "holder", "garden", "shop")
NAMED = ("vessel", "holder", "shop")
"""The kinds in which no two may have the same name: a class file calls them by it."""
BLANK_ROWS = 3  # [own] empty bunches under those of a shop
MOST_ROWS = 60  # [own] more bunches are not offered by any shop
Typed = Mapping[str, str]


@dataclass(frozen=True, slots=True)
class Thing:
    """One thing in a list: its document, a picture or none, what it is in a line, its lines."""

    kept: Kept
    picture: str
    says: str
    lines: Sequence[str] = ()
    note: str = ""
    used_by: Sequence[str] = ()


@dataclass(frozen=True, slots=True)
class ThingForm:
    """The fields of one thing as they stand, and the version they come from."""

    kind: str
    fields: Mapping[str, str]
    number: int | None = None
    version: int | None = None
    rows: int = 0
    used_by: Sequence[str] = ()


@dataclass(frozen=True, slots=True)
class ThingChoices:
    """What can be chosen in the fields."""

    shapes: Sequence[tuple[str, str, str]]
    glazes: Sequence[tuple[str, str]]
    wares: Sequence[tuple[str, str]]
    walls: Sequence[tuple[str, str]]
    whences: Sequence[tuple[str, str]]
    months: Sequence[tuple[int, str]]
    plants: Sequence[str]
    inches: bool


@dataclass(frozen=True, slots=True)
class Both:
    """Somebody else changed it meanwhile: field, what they wrote, what was written here."""

    theirs: Kept
    differences: Sequence[tuple[str, str, str]] = field(default=())


def listed(shelf: Shelf, kind: str) -> list[Thing]:
    """Everything of a kind, by name."""
    words = words_for(shelf)
    found = sorted(shelf.all(kind), key=lambda kept: kept.name.casefold())
    return [thing(shelf, kept, words) for kept in found]


def away(shelf: Shelf, kind: str) -> tuple[Kept, ...]:
    """What was put away."""
    return shelf.removed(kind)


def thing(shelf: Shelf, kept: Kept, words: Words) -> Thing:
    """One thing as it is listed."""
    content = kept.content
    note = str(content.get("note", ""))
    made = {"vessel": _vessel, "holder": _holder, "garden": _garden, "shop": _shop}[kept.kind]
    picture, says, lines = made(content, words)
    return Thing(kept, picture, says, lines, note, used_by(shelf, kept))


_Shown = tuple[str, str, Sequence[str]]


def _vessel(content: Mapping[str, Any], words: Words) -> _Shown:
    made = read.vessel_of(content)
    deep = "-deep" if made.depth_cm != made.width_cm else ""
    says = Saying(
        f"things.vessel{deep}",
        vessel=Saying(f"vessel.{made.shape}"),
        width_cm=made.width_cm,
        depth_cm=made.depth_cm,
        height_cm=made.height_cm,
    )
    picture = bare_icon(made, words, glaze=content.get("glaze", "celadon"))
    return picture, words.say(says), (_count(content, words),)


def _holder(content: Mapping[str, Any], words: Words) -> _Shown:
    made = read.holder_of(content)
    key = "things.holder-oblong" if made.rectangular else "things.holder"
    says = words.say(Saying(key, width_cm=made.width_cm, depth_cm=made.depth_cm))
    mass = "things.weighed" if made.mass.weighed else "things.not-weighed"
    lines = (words.say(Saying(mass, mass_g=made.mass.g)), _count(content, words))
    return holder_icon(made, words), says, lines


def _count(content: Mapping[str, Any], words: Words) -> str:
    return words.say(Saying("things.count", count=int(content.get("count", 1))))


def _garden(content: Mapping[str, Any], words: Words) -> _Shown:
    told = read.garden_numbers(content)
    says = Saying(
        "things.garden",
        plant=plant_name(told.plant),
        count=told.count,
        length_cm=told.length,
    )
    months = tuple(Saying(f"things.month.{month}") for month in content.get("months", ()))
    lines = [words.say(Saying("things.in-months", months=months))] if months else []
    if told.whence != "garden":
        lines.append(words.say(_whence(told.whence)).capitalize())
    if told.shoots:
        shoots = tuple(_shoot(each) for each in told.shoots)
        lines.append(words.say(Saying("things.with-shoots", shoots=shoots)))
    return "", words.say(says), lines


def _shoot(shoot: Shoot) -> Saying:
    return Saying("things.shoot", length_cm=shoot.length_cm, at_cm=shoot.at_cm)


def _whence(whence: Whence) -> Saying:
    return Saying(f"class.choice.from.{whence.replace(' ', '-')}")


def _shop(content: Mapping[str, Any], words: Words) -> _Shown:
    bunches = content.get("bunch", ())
    says = words.say(Saying("things.shop", count=len(bunches)))
    return "", says, [*_when(content, words), *(_bunch(each, words) for each in bunches)]


def _when(content: Mapping[str, Any], words: Words) -> list[str]:
    """When a shop sells, and how early it wants to know."""
    told = read.shop_numbers(content)
    found = []
    if told.days:
        days = tuple(Saying(f"things.weekday.{each}") for each in day_names(told.days))
        found.append(Saying("things.days", days=days))
    if told.notice_days:
        found.append(Saying("things.notice", count=told.notice_days))
    return [words.say(each) for each in found]


def _bunch(content: Mapping[str, Any], words: Words) -> str:
    told = read.bunch_numbers(content)
    return words.say(
        Saying(
            "things.bunch",
            plant=plant_name(told.plant),
            count=told.stems,
            price_minor=small_units(Decimal(told.price), words.decimals),
            length_cm=told.length,
        )
    )


def used_by(shelf: Shelf, kept: Kept) -> tuple[str, ...]:
    """The classes that call it by its name."""
    if kept.kind not in NAMED:
        return ()
    name = plain(kept.name)
    return tuple(
        each.name
        for each in shelf.all("class")
        if any(plain(word) == name for word in _called(each.content, kept.kind))
    )


def _called(content: Mapping[str, Any], kind: str) -> Iterator[str]:
    """Every name under which a class calls something of a kind."""
    tables = [content.get("demonstration"), *_list(content, "person"), *_list(content, kind)]
    for table in tables:
        if isinstance(table, dict):
            yield str(table.get("name", "")) if table in _list(content, kind) else ""
            word = table.get(kind)
            yield word if isinstance(word, str) else ""


def _list(content: Mapping[str, Any], key: str) -> list[Any]:
    found = content.get(key)
    return found if isinstance(found, list) else []


def choices(shelf: Shelf) -> ThingChoices:
    """What can be chosen in the fields."""
    words = words_for(shelf)

    def pairs(what: str, values: Sequence[str]) -> list[tuple[str, str]]:
        return [(each, words.say(Saying(f"things.{what}.{each}"))) for each in values]

    return ThingChoices(
        shapes=shape_tiles(words),
        glazes=pairs("glaze", GLAZES),
        wares=pairs("ware", tuple(WARE_DENSITY_G_CM3)),
        walls=pairs("walls", ("straight", "curved")),
        whences=[(each, words.say(_whence(each))) for each in WHENCES],
        months=[(month, words.say(Saying(f"things.month.{month}"))) for month in read.MONTHS],
        plants=sorted({each.english for each in plants()}),
        inches=unit_of(shelf) == "in",
    )


def new_form(shelf: Shelf, kind: str) -> ThingForm:
    """The empty fields. Raises `Missing` for a kind that there is not."""
    _check_kind(kind)
    return ThingForm(kind, {}, rows=BLANK_ROWS)


def form(shelf: Shelf, kind: str, number: int) -> ThingForm:
    """The fields of one thing. Raises `Missing`."""
    kept = one(shelf, kind, number)
    bunches = kept.content.get("bunch", ())
    return ThingForm(
        kind,
        fields_of(kept.content, unit_of(shelf)),
        number,
        kept.version,
        len(bunches) + BLANK_ROWS,
        used_by(shelf, kept),
    )


def fields_of(content: Mapping[str, Any], unit: str) -> dict[str, str]:
    """What stands in the fields of a thing."""
    found = read.field_texts(content, unit)
    names = {each.id: each.english for each in plants()}  # a class's own word may be kept, too
    if "plant" in content:
        found["plant"] = names.get(content["plant"], content["plant"])
    found |= {f"month-{month}": "yes" for month in content.get("months", ())}
    for row, bunch in enumerate(content.get("bunch", ()), start=1):
        plant = names.get(bunch["plant"], bunch["plant"])
        inner = read.field_texts(bunch, unit) | {"plant": plant}
        found |= {f"bunch[{row}].{key}": text for key, text in inner.items()}
    return found


def filled(kind: str, typed: Typed, number: int | None) -> ThingForm:
    """The fields as somebody left them, to be shown again; with more rows where asked."""
    _check_kind(kind)
    base = typed.get("base", "")
    return ThingForm(
        kind,
        typed,
        number,
        whole_number(base),
        rows_of(typed) + (BLANK_ROWS if typed.get("more") else 0),
    )


def rows_of(typed: Typed) -> int:
    """How many rows of bunches a form had."""
    rows = whole_number(typed.get("rows", ""))
    return BLANK_ROWS if rows is None else min(rows, MOST_ROWS)


def one(shelf: Shelf, kind: str, number: int) -> Kept:
    """One thing of a kind. Raises `Missing`."""
    _check_kind(kind)
    kept = shelf.get(number)
    if kept.kind != kind:
        raise Missing(kind, number)
    return kept


def keep(shelf: Shelf, kind: str, typed: Typed, number: int | None = None) -> Kept | Both:
    """Add what was typed, or change number `number` from the version `base` that the form names.

    Raises `InputError` by field, `Missing`.
    """
    content = _content(shelf, kind, typed)
    name = str(content.get("name", ""))
    if kind in NAMED:
        _check_name(shelf, kind, name, number)
    name = name or plant_name(content["plant"])
    if number is None:
        return shelf.add(kind, name, content)
    one(shelf, kind, number)
    saved = shelf.save(number, content, filled(kind, typed, number).version or 0, name)
    return _both(shelf, saved, content) if isinstance(saved, Conflict) else saved


def _content(shelf: Shelf, kind: str, typed: Typed) -> dict[str, Any]:
    _check_kind(kind)
    unit, decimals = unit_of(shelf), int(settings(shelf)["decimals"])
    if kind == "shop":
        return read.shop(typed, range(1, rows_of(typed) + 1), unit, decimals)
    reader = {"vessel": read.kept_vessel, "holder": read.kept_holder, "garden": read.garden}[kind]
    return reader(typed, unit)


def _check_kind(kind: str) -> None:
    if kind not in KINDS:
        raise Missing(kind, 0)


def _check_name(shelf: Shelf, kind: str, name: str, number: int | None) -> None:
    for other in shelf.all(kind):
        if other.id != number and plain(other.name) == plain(name):
            raise refuse("name", "typed.name-taken", "typed.name-taken-try", name=other.name)


def _both(shelf: Shelf, conflict: Conflict, mine: Mapping[str, Any]) -> Both:
    unit = unit_of(shelf)
    theirs = fields_of(conflict.theirs.content, unit)
    ours = fields_of(mine, unit)
    keys = [key for key in {**theirs, **ours} if theirs.get(key, "") != ours.get(key, "")]
    return Both(conflict.theirs, [(key, theirs.get(key, ""), ours.get(key, "")) for key in keys])


def copy(shelf: Shelf, kind: str, number: int) -> Kept:
    """Another like it, under a name of its own. Raises `Missing`."""
    kept = one(shelf, kind, number)
    name = free_name(shelf, kind, kept.name)
    content = {**kept.content, "name": name} if kind in NAMED else kept.content
    return shelf.add(kind, name, content)


def put_away(shelf: Shelf, kind: str, number: int) -> Kept:
    """Off the list; it is kept. Raises `Missing`."""
    one(shelf, kind, number)
    return shelf.remove(number)


def bring_back(shelf: Shelf, kind: str, number: int) -> Kept:
    """Back on the list, under another name where its own is taken meanwhile. Raises `Missing`."""
    kept = one(shelf, kind, number)
    try:
        if kind in NAMED:
            _check_name(shelf, kind, kept.name, number)
    except InputError:
        name = free_name(shelf, kind, kept.name)
        shelf.save(number, {**kept.content, "name": name}, kept.version, name)
    return shelf.restore(number)

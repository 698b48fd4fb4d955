"""The marks of a piece that somebody made: kept one by one, given back, asked to be measured.

Model: a document of kind `made` holds the measuring request as it grows; the page sends all marks
of it with the version that they were made from, and gets back what there is to see.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping, Sequence
from typing import Any

from nejime.basis.errors import refuse
from nejime.basis.sayings import Saying, Words, texts
from nejime.desk.door import unit_of
from nejime.desk.made import pictures as held
from nejime.desk.made.begin import KIND, Plan, plan_of, rim_saying
from nejime.desk.made.pictures import Pictures
from nejime.desk.made.rim import seen_rim
from nejime.desk.settings import words_for
from nejime.desk.shelf import Conflict, Kept, Missing, Shelf
from nejime.forms.rules import MAIN
from nejime.forms.stems import stem_name
from nejime.papers.wording import one_unit, plant_name, sentence
from nejime.reading.marks import CORNERS, MOST_VIEWS, facts_of, marks_of, number
from nejime.reading.measuring import LEAST_PX, MOST_PX, read_request
from nejime.reading.typed import vessel_of

RIM_POINTS = 8
"""So many right round the rim are asked for."""
LEAST_RIM = 6  # fewer do not say where the rim is
NAME_LETTERS = 200
Json = dict[str, Any]


def one(shelf: Shelf, number: int) -> Kept:
    """A piece that is looked at. Raises `Missing`."""
    kept = shelf.get(number)
    if kept.kind != KIND:
        raise Missing(KIND, number)
    return kept


def state(shelf: Shelf, pictures: Pictures, number: int, today: dt.date) -> Json:
    """Everything that the page needs but the answer. Raises `Missing`."""
    return shown(shelf, pictures, one(shelf, number), today)


def shown(shelf: Shelf, pictures: Pictures, kept: Kept, today: dt.date) -> Json:
    """The state of one as it is now."""
    words, content = words_for(shelf), kept.content
    plan = plan_of(shelf, content, today)
    rectangle = content["vessel"]["shape"] == "rectangle"
    return {
        "id": kept.id,
        "name": kept.name,
        "version": kept.version,
        "can_undo": kept.can_undo,
        "can_redo": kept.can_redo,
        "vessel": _vessel(kept, words),
        "plan": plan.name if plan else "",
        "plan_missing": bool(content.get("plan")) and plan is None,
        "rectangle": rectangle,
        "tall": vessel_of(content["bowl"]).tall,
        "needed": CORNERS if rectangle else RIM_POINTS,
        "stems": _stems(content, plan, words),
        "more": _more(content, plan, words),
        "views": [
            _view(shelf, pictures, kept.id, at, view, words)
            for at, view in enumerate(content["views"])
        ],
        "ready": bool(ready_views(content)),
    }


def _vessel(kept: Kept, words: Words) -> str:
    """The vessel in words, where the name does not say it already."""
    told = rim_saying(vessel_of(kept.content["bowl"]))
    return "" if kept.name == sentence(one_unit(words).say(told)) else words.say(told)


def _view(
    shelf: Shelf, pictures: Pictures, number: int, at: int, view: Mapping[str, Any], words: Words
) -> Json:
    name = view.get("picture", "")
    working = held.found(shelf, pictures, name) if name else None
    rectangle = "corners" in view
    rim = view["corners"] if rectangle else view.get("rim", [])
    told: Json = {
        "width": view["width"],
        "height": view["height"],
        "rim": rim,
        "stems": view["stems"],
        "pins": view.get("pins"),
        "picture": f"/made/{number}/picture/{at}?as={name}" if working else "",
        "box": list(working.box) if working else [0, 0, view["width"], view["height"]],
        "kept": held.is_kept(shelf, name) if name else False,
        "cropped": bool(view.get("cropped")),
        "card": len(view.get("card", ())),
        "remarks": [words.say(Saying(key)) for key in view.get("remarks", ())],
    }
    seen = seen_rim(rim, rectangle=rectangle)
    told["outline"] = seen.outline
    told["rim_off"] = seen.off
    told["rim_says"] = [words.say(each) for each in seen.says]
    return told


def _stems(content: Mapping[str, Any], plan: Plan | None, words: Words) -> list[Json]:
    """The stems that are asked for: the plan's main stems, and what else was marked or named."""
    asked = dict.fromkeys(stem_ids(content, plan))
    facts = content.get("stems", {})
    return [_stem(each, facts.get(each, {}), plan, words) for each in asked]


def stem_ids(content: Mapping[str, Any], plan: Plan | None) -> list[str]:
    """Every stem to mark, the main stems first."""
    main = [stem.id for stem in plan.piece.main] if plan else list(MAIN)
    marked = [stem["id"] for view in content["views"] for stem in view["stems"]]
    return list(dict.fromkeys([*main, *content.get("stems", {}), *marked]))


def _stem(stem_id: str, fact: Mapping[str, Any], plan: Plan | None, words: Words) -> Json:
    planned = _planned(stem_id, plan)
    own = one_unit(words)
    told: Json = {"id": stem_id, "name": fact.get("name") or words.say(stem_name(stem_id))}
    told["plant"] = plant_name(plan.plants[stem_id]) if plan and stem_id in plan.plants else ""
    told["length"] = (
        own.quantity("length_cm", fact["cut_length_cm"]) if "cut_length_cm" in fact else ""
    )
    told["planned"] = own.quantity("length_cm", planned.length_cm) if planned else ""
    told["planned_cm"] = round(planned.length_cm, 2) if planned else None
    return told | {key: fact[key] for key in ("cut_length_cm", "aim", "name") if key in fact}


def _planned(stem_id: str, plan: Plan | None) -> Any:
    return next((s for s in plan.piece.stems if s.id == stem_id), None) if plan else None


def _more(content: Mapping[str, Any], plan: Plan | None, words: Words) -> list[Json]:
    """The stems that can be marked besides: the plan's others, and one that is in no plan."""
    asked = stem_ids(content, plan)
    others = [stem.id for stem in plan.piece.stems] if plan else []
    count = next(n for n in range(1, 100) if f"sub-{n}" not in (*asked, *others))
    free = [each for each in (*others, f"sub-{count}") if each not in asked]
    return [{"id": each, "name": words.say(stem_name(each))} for each in free]


# Keeping


def keep(
    shelf: Shelf, pictures: Pictures, number: int, told: Mapping[str, Any], today: dt.date
) -> Json:
    """Keeps all marks, from the version `base`; both sides where somebody else changed it.

    Raises `Missing`, `InputError`.
    """
    kept = one(shelf, number)
    content = {**kept.content, "views": _marked(kept.content, told.get("views", []))}
    if "stems" in told:
        content["stems"] = facts_of(told["stems"], unit_of(shelf))
    saved = shelf.save(number, content, _base(told))
    if isinstance(saved, Conflict):
        return {"conflict": shown(shelf, pictures, saved.theirs, today)}
    return shown(shelf, pictures, saved, today)


def _base(told: Mapping[str, Any]) -> int:
    base = told.get("base")
    if isinstance(base, bool) or not isinstance(base, int):
        raise refuse("marks", "marks.not-marks", "marks.not-marks-try")
    return base


def _marked(content: Mapping[str, Any], told: object) -> list[Json]:
    """The views with the marks that were sent. Raises `InputError`."""
    views: Sequence[Json] = content["views"]
    if not isinstance(told, list) or len(told) != len(views):
        raise refuse("marks", "marks.not-marks", "marks.not-marks-try")
    shape = content["vessel"]["shape"]
    return [{**view, **marks_of(each, view, shape)} for view, each in zip(views, told, strict=True)]


def back(shelf: Shelf, pictures: Pictures, number: int, today: dt.date) -> Json:
    """One step back. Raises `Missing`."""
    one(shelf, number)
    return shown(shelf, pictures, shelf.undo(number), today)


def forth(shelf: Shelf, pictures: Pictures, number: int, today: dt.date) -> Json:
    """One step forth. Raises `Missing`."""
    one(shelf, number)
    return shown(shelf, pictures, shelf.redo(number), today)


def check(content: Mapping[str, Any]) -> None:
    """Refuses what is none. Raises `InputError`, `KeyError`, `TypeError`, `ValueError`."""
    vessel_of(content["bowl"])
    shape = content["vessel"]["shape"]
    if shape not in ("round", "rectangle") or len(content["views"]) > MOST_VIEWS:
        raise ValueError(shape)
    for view in content["views"]:
        _check_view(view, shape)
    facts_of(content["stems"], "cm")
    for told in (content["name"], *(content.get("plan") or {}).values()):
        _check_text(told, NAME_LETTERS)
    if ready_views(content):
        read_request(request_of(content, None), no_picture)


def _check_view(view: Mapping[str, Any], shape: str) -> None:
    for side in ("width", "height"):
        number(view[side], LEAST_PX, MOST_PX)
    marks_of(dict(view), view, shape)
    _check_text(view.get("picture", ""), NAME_LETTERS)
    if "cropped" in view:
        left, top, across, down = view["cropped"]
        for each in (left, top, across, down):
            number(each, 0, MOST_PX)
    for key in view.get("remarks", ()):
        if key not in texts():
            raise ValueError(key)
    for marker in view.get("card", ()):
        for x, y in marker["corners"]:
            number(x, -MOST_PX, MOST_PX), number(y, -MOST_PX, MOST_PX)


def _check_text(told: object, letters: int) -> None:
    if not isinstance(told, str) or len(told) > letters:
        raise ValueError(told)


def no_picture(name: str) -> Any:
    """A kept request names no picture."""
    raise refuse("picture", "made.picture-gone", "made.picture-gone-try")


# What is asked of the measuring


def ready_views(content: Mapping[str, Any]) -> list[int]:
    """The views in which enough is marked to measure."""
    rectangle = content["vessel"]["shape"] == "rectangle"
    least = CORNERS if rectangle else LEAST_RIM
    return [
        at
        for at, view in enumerate(content["views"])
        if len(view.get("corners" if rectangle else "rim", ())) >= least
        and any("tip" in stem for stem in view["stems"])
    ]


def request_of(content: Mapping[str, Any], plan: Plan | None) -> Json:
    """The measuring request: the views that are ready, what is known of each stem beside its marks.

    Raises `InputError` at `marks` where no view is ready.
    """
    ready = ready_views(content)
    if not ready:
        raise refuse("marks", "made.not-yet", "made.not-yet-try")
    facts = content.get("stems", {})
    return {
        "vessel": content["vessel"],
        "holder": content.get("holder", {}),
        "views": [_asked(content["views"][at], facts, plan) for at in ready],
    }


def _asked(view: Mapping[str, Any], facts: Mapping[str, Any], plan: Plan | None) -> Json:
    keys = ("width", "height", "focal_35mm", "rim", "corners", "card")
    told = {key: view[key] for key in keys if key in view}
    stems = [stem for stem in view["stems"] if "tip" in stem]
    return {**told, "stems": [{**s, **_known(s["id"], facts, plan)} for s in stems]}


def _known(stem_id: str, facts: Mapping[str, Any], plan: Plan | None) -> Json:
    """How long a stem is; which way it leans, as she says or, where she does not, as planned."""
    fact = facts.get(stem_id, {})
    known: Json = {}
    if "cut_length_cm" in fact:
        known["cut_length_cm"] = fact["cut_length_cm"]
    planned = _planned(stem_id, plan)
    if "aim" in fact:
        known["aim_tilt_deg"] = fact["aim"]["tilt_deg"]
        known["aim_bearing_deg"] = fact["aim"]["bearing_deg"]
    elif planned is not None:
        known["aim_tilt_deg"] = planned.stands_deg
        known["aim_bearing_deg"] = planned.bearing_deg
    return known

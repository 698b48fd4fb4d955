"""What to buy and cut for a class: asked of the worker, with the reasons one after another.

The plan is one job and each reason one more, so that they appear as they are found, and a question
that was asked before is answered at once.
"""

from __future__ import annotations

import datetime as dt
import json
import time
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from nejime import __version__
from nejime.basis.sayings import Saying, Words
from nejime.desk.beside import note, noted
from nejime.desk.blooming import with_blooms
from nejime.desk.classes import fingerprint, read
from nejime.desk.known_plants import own_plants, plants_said, said_of
from nejime.desk.plan_class import words_of
from nejime.desk.shelf import Kept, Missing, Shelf
from nejime.desk.taught import known_rules
from nejime.forms.stems import stem_name
from nejime.lesson.lesson import Lesson
from nejime.lesson.reasons import changes, dearest, reason
from nejime.lesson.supplying import Supplying, supplying
from nejime.material.piles import OneCut, Pile, branch_by_branch
from nejime.material.programme import Limits
from nejime.material.supply import GardenBranch
from nejime.papers.bring import occasion
from nejime.papers.pdf import print_sheets
from nejime.papers.piles import by_branch, cutting
from nejime.papers.sheet import Sheet
from nejime.papers.shopping import shopping_list
from nejime.papers.whole import paper_of
from nejime.papers.wording import dated, plant_name
from nejime.plants.plant import Plant
from nejime.reading.class_file import read_class_tree

JOB = "buying"
LIMITS = Limits(money_s=60.0, wood_s=10.0)  # [own] she may stop it; the best so far is kept
QUICK = Limits(money_s=5.0, wood_s=1.0)  # [own] a reason and a sheet need not wait long
DEAREST = "dearest"
TOLD_S = 0.3  # [own] between two looks at how far it is
AT_WORK = ("waiting", "running")

Tell = Callable[[float, Saying | None], bool]


@dataclass(frozen=True, slots=True)
class Buys:
    """What there is to say of a class's material. `plan` is empty until it is found."""

    state: str
    says: Saying | None
    plan: Mapping[str, Any]
    reasons: tuple[str, ...]
    thinking: bool
    """Whether reasons are still to come."""

    @property
    def at_work(self) -> bool:
        """Whether the plan itself is still sought."""
        return self.state in AT_WORK


# The worker


def act(shelf: Shelf, question: Mapping[str, Any], tell: Tell) -> Mapping[str, Any]:
    """The plan of a class's material, or one reason; the best so far where it is stopped."""
    rules = known_rules()
    lesson = read_class_tree("", question["tree"], rules, plants_said(question))
    words, asked = words_of(lesson), question["reason"]
    if asked is None:
        today = dt.date.fromisoformat(question["today"])
        progress = _telling(tell)
        made = supplying(lesson, rules, today, limits=LIMITS, progress=progress)
        return _answer(lesson, made, words)
    base = supplying(lesson, rules, lesson.starts.date(), limits=QUICK).bought
    if asked == DEAREST:
        found = dearest(lesson, base, rules, QUICK)
    else:
        found = (reason(list(changes(lesson, base))[asked], base, rules, QUICK),)
    return {"says": [words.say(each.says) for each in found]}


def _telling(tell: Tell) -> Callable[[float, float], bool]:
    """Tells the best so far, now and then; whether to stop."""
    told = [0.0, False]

    def progress(best: float, bound: float) -> bool:
        if time.monotonic() - told[0] > TOLD_S:
            told[0] = time.monotonic()
            says = Saying("buying.doing")
            if 0 <= bound <= best < float("inf"):
                says = Saying("buying.best-so-far", best_minor=round(best), least_minor=int(bound))
            told[1] = tell(0.0, says)
        return bool(told[1])

    return progress


def _answer(lesson: Lesson, made: Supplying, words: Words) -> dict[str, Any]:
    """The plan as the page shows it, in the class's own words."""
    bought = made.bought
    days = {each.shop: dated(each.says, words) for each in _orders(made)}
    spares = sum(use.wanted.purpose == "spare" for use in bought.uses)
    return {
        "total": words.quantity("total_minor", bought.total_minor),
        "each": words.quantity("each_minor", bought.per_head_minor or 0),
        "more": words.quantity("more_minor", bought.total_minor - bought.bound_minor),
        "proven": bought.proven,
        "people": bought.heads,
        "stems": len(bought.uses),
        "spares": spares,
        "complete": bought.complete,
        "short": [{"says": words.say(s.says), "mend": words.say(s.mend)} for s in bought.short_of],
        "mended": words.say(bought.mended_by) if bought.mended_by else "",
        "alone": [
            words.say(Saying("buying.alone", plant=plant_name(name))) for name in bought.alone
        ],
        "going": dated(made.going.says, words) if made.going else "",
        "carrying": [words.say(each) for each in made.carrying.says] if made.carrying else [],
        "shops": [
            {
                "name": each.shop,
                "day": days.get(each.shop, ""),
                "rows": [
                    {
                        "says": words.say(row.says),
                        "instead": [words.say(other) for other in row.instead],
                        "price": words.quantity("price_minor", row.price_minor),
                        "over": row.stems - row.wanted,
                    }
                    for row in each.rows
                ],
                "delivery": words.quantity("price_minor", each.delivery_minor)
                if each.delivery_minor
                else "",
                "total": words.quantity("price_minor", each.total_minor),
            }
            for each in made.shopping.shops
        ],
        "garden": [
            {"says": words.say(row.says), "place": row.place} for row in made.shopping.garden
        ],
        "piles": [_pile(pile, words) for pile in made.piles.piles],
        "branches": [_branch(cut, words) for cut in branch_by_branch(bought)],
        "reasons": [*range(len(list(changes(lesson, bought)))), DEAREST],
    }


def _orders(made: Supplying) -> Sequence[Any]:
    return made.going.orders if made.going else ()


def _pile(pile: Pile, words: Words) -> dict[str, Any]:
    parts = [each for each in pile.from_ if each.source.shoots]
    return {
        "says": words.say(pile.says),
        "cut": words.quantity("cut_cm", pile.length_cm),
        "share": pile.length_cm,
        "count": pile.count,
        "spares": pile.spares,
        "parts": [
            words.say(Saying("buying.part", count=each.count, part=each.says)) for each in parts
        ],
    }


def _branch(cut: OneCut, words: Words) -> dict[str, str]:
    use, wanted = cut.use, cut.use.wanted
    source = use.from_
    place = source.name if isinstance(source, GardenBranch) else source.shop
    whose = Saying(f"material.set.{wanted.purpose}", who=wanted.who)
    return {
        "number": str(use.branch) if source.shoots else "",
        "place": place,
        "plant": plant_name(use.plant),
        "part": words.say(cut.part),
        "cut": words.quantity("cut_cm", cut.cut_to_cm),
        "whose": words.say(Saying("buying.spare") if wanted.purpose == "spare" else whose),
        "stem": words.say(stem_name(wanted.stem)),
    }


# The page


def buys(shelf: Shelf, kept: Kept, today: dt.date) -> Buys:
    """What is known of a class's material; what is not known yet is asked for."""
    job = _job(shelf, kept, today)
    if not isinstance(job.answer, Mapping):
        return Buys(job.state, job.says, {}, (), False)
    plan = job.answer
    told: list[str] = []
    thinking = False
    for each in plan["reasons"]:
        asked = shelf.ask(JOB, _question(shelf, kept, kept_day(kept), each))
        if isinstance(asked.answer, Mapping):
            told += asked.answer["says"]
        thinking |= asked.state in AT_WORK
    return Buys(job.state, job.says, plan, tuple(told), thinking)


def _job(shelf: Shelf, kept: Kept, today: dt.date) -> Any:
    """The job of the plan of a class as it is now: the one noted, so that what was stopped or
    failed is not sought again by itself."""
    question = _question(shelf, kept, today, None)
    of, last = fingerprint(question), noted(shelf, JOB, kept.id)
    if last.get("of") == of:
        try:
            return shelf.job(last["job"])
        except Missing:
            pass
    return _asked(shelf, kept, question, fresh=False)


def _asked(shelf: Shelf, kept: Kept, question: Mapping[str, Any], *, fresh: bool) -> Any:
    job = shelf.ask(JOB, question, fresh=fresh)
    note(shelf, JOB, kept.id, {"of": fingerprint(question), "job": job.id})
    return job


def anew(shelf: Shelf, kept: Kept, today: dt.date) -> None:
    """Seeks the plan once more, where it was stopped or failed."""
    _asked(shelf, kept, _question(shelf, kept, today, None), fresh=True)


def kept_day(kept: Kept) -> dt.date:
    """The day of a class, so that reasons are asked once and not every day anew."""
    return dt.date.fromisoformat(str(kept.content["class"]["date"])[:10])


def stop(shelf: Shelf, kept: Kept, today: dt.date) -> None:
    """Stops the search; the best so far is kept."""
    shelf.stop(_job(shelf, kept, today).id)


def _question(shelf: Shelf, kept: Kept, day: dt.date, asked: int | str | None) -> dict[str, Any]:
    return {
        "tree": with_blooms(shelf, kept.content),
        "today": day.isoformat(),
        "reason": asked,
        "nejime": __version__,
        **said_of(shelf, read(kept)[0]),
    }


# Sheets, without all the other papers of the class

SHEETS = ("shopping", "piles-and-sets", "branch-by-branch")


def sheet(shelf: Shelf, kept: Kept, name: str, today: dt.date) -> bytes:
    """One of the `SHEETS` of a class as PDF. Raises `Missing`, `InputError`."""
    if name not in SHEETS:
        raise Missing("paper", kept.id)
    lesson, made = _made(fingerprint(with_blooms(shelf, kept.content)), today, own_plants(shelf))
    words, above = words_of(lesson), occasion(lesson, words_of(lesson))
    return printed(lesson, [_sheet(name, lesson, made, words, above)])


def _sheet(name: str, lesson: Lesson, made: Supplying, words: Words, above: str) -> Sheet:
    if name == "shopping":
        return shopping_list(
            made.bought,
            made.shopping,
            lesson.wishes,
            words,
            above,
            until=made.going,
            load=made.carrying,
        )
    if name == "piles-and-sets":
        return cutting(made.piles, words, above)
    return by_branch(branch_by_branch(made.bought), words, above)


def printed(lesson: Lesson, sheets: Sequence[Sheet]) -> bytes:
    """Sheets on the paper of a class."""
    return print_sheets(sheets, paper_of(lesson), sheets[0].title).pdf


@lru_cache(maxsize=8)
def _made(tree: str, today: dt.date, plants: tuple[Plant, ...]) -> tuple[Lesson, Supplying]:
    rules = known_rules()
    lesson = read_class_tree("", json.loads(tree), rules, plants)
    return lesson, supplying(lesson, rules, today, limits=QUICK)

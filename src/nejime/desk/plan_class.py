"""Plan a class: from its file to every paper, drawing and date, in one folder."""

from __future__ import annotations

import datetime as dt
import json
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from nejime import __version__
from nejime.basis.sayings import Saying, Words
from nejime.desk.answers import piece_answer
from nejime.desk.folder import MANIFEST, write_folder
from nejime.desk.read_file import read_file, read_own_rules
from nejime.desk.stand import verdict_answer
from nejime.forms.rules import rules
from nejime.lesson.lesson import Lesson
from nejime.lesson.plan import LessonPlan, Made, PersonPlan, plan_lesson
from nejime.papers.calendar import calendar
from nejime.papers.whole import Papers, drawings_for, papers_for
from nejime.reading.class_file import read_class

OWN_RULES = "proportions"
"""The folder beside a class file in which a teacher's own proportions lie."""

Progress = Callable[[str, int, int], None]
"""Told what is being done, how many steps are done, and of how many."""


@dataclass(frozen=True, slots=True)
class Planned:
    """A planned class and what was written where; letters that no font of ours has."""

    plan: LessonPlan
    folder: Path
    files: tuple[str, ...]
    not_shown: tuple[str, ...] = ()


def plan_class(
    path: Path,
    folder: Path,
    today: dt.date,
    progress: Progress | None = None,
) -> Planned:
    """Read a class file, plan the class, and write every paper into a folder.

    Nothing is written unless all of it can be. Raises `InputError` with every fault.
    """
    plan = read_and_plan(path, today, progress)
    made = papers_of(plan, progress)
    write_folder(folder, made.files)
    return Planned(plan, folder, tuple(sorted(made.files)), made.not_shown)


def papers_of(plan: LessonPlan, progress: Progress | None = None) -> Papers:
    """Everything that is written for a planned class, by file name."""
    words = words_of(plan.lesson)
    papers = papers_for(plan, words, _named(progress, "papers"))
    drawn = drawings_for(plan, words, _named(progress, "drawings"))
    files = {**papers.files, **drawn}
    files["class.ics"] = calendar(plan.lesson, plan.tasks, words, plan.today)
    files[MANIFEST] = _manifest(plan, words, files)
    return Papers(files, papers.not_shown)


def read_and_plan(path: Path, today: dt.date, progress: Progress | None = None) -> LessonPlan:
    """The plan of the class that a file describes. Raises `InputError`."""
    own = path.parent / OWN_RULES
    known = rules(read_own_rules(own) if own.is_dir() else None)
    lesson = read_class(str(path), read_file(path), known)
    return plan_lesson(lesson, known, today, _named(progress, "pieces"))


def words_of(lesson: Lesson) -> Words:
    """How this class's papers are worded: its units and its money."""
    return Words(unit=lesson.units, currency=lesson.money.sign, decimals=lesson.money.decimals)


def _named(progress: Progress | None, what: str) -> Callable[[int, int], None] | None:
    return None if progress is None else lambda done, of: progress(what, done, of)


def _manifest(plan: LessonPlan, words: Words, files: Mapping[str, bytes]) -> bytes:
    """`plan.json`: everything computed, and the names of the files that are ours to replace."""
    answer = plan_answer(plan, words) | {"files": sorted([*files, MANIFEST])}
    return (json.dumps(answer, ensure_ascii=False, indent=1, allow_nan=False) + "\n").encode(
        "utf-8"
    )


def plan_answer(plan: LessonPlan, words: Words) -> dict[str, Any]:
    """A plan as a dictionary."""
    lesson = plan.lesson
    return {
        "nejime": __version__,
        "proportions": lesson.rule,
        "title": lesson.title,
        "starts": lesson.starts.isoformat(),
        "minutes": lesson.minutes,
        "people": [_person_answer(person, words) for person in plan.people],
        "demonstration": _made_answer(plan.demonstration, words),
        "buying": _buying_answer(plan, words),
        "piles": [
            {
                "plant": pile.plant,
                "pile": pile.name,
                "length_cm": round(pile.length_cm, 1),
                "count": pile.count,
            }
            for pile in plan.piles.piles
        ],
        "tasks": [
            {
                "begins": task.begins.isoformat(),
                "minutes": task.minutes,
                "kind": task.kind,
                "plant": task.plant,
                "says": words.say(task.says),
            }
            for task in plan.tasks
        ],
        "order": [
            {"part": part.name, "begins_min": part.begins_min, "minutes": part.minutes}
            for part in plan.order.parts
        ],
        "corrected": plan.order.corrected,
        "warnings": [words.say(each) for each in plan.warnings],
    }


def _person_answer(person: PersonPlan, words: Words) -> dict[str, Any]:
    answer: dict[str, Any] = {"seat": person.seat.number, "name": person.name}
    if person.made is None:
        return answer | {"vessel": None}
    return answer | _made_answer(person.made, words)


def _made_answer(made: Made, words: Words) -> dict[str, Any]:
    return piece_answer(made.piece, words) | {
        "plants": dict(made.plants),
        "verdict": verdict_answer(made.verdict, made.remedies, words),
    }


def _buying_answer(plan: LessonPlan, words: Words) -> dict[str, Any]:
    bought = plan.bought
    return {
        "total_minor": bought.total_minor,
        "each_minor": plan.money.each_minor,
        "complete": bought.complete,
        "least_minor": bought.bound_minor,
        "bunches": [
            {
                "shop": buy.bunch.shop,
                "plant": buy.bunch.plant,
                "bunches": buy.count,
                "stems": buy.stems,
                "price_minor": buy.price_minor,
            }
            for buy in bought.buys
        ],
        "garden": [
            {
                "plant": cut.branch.plant,
                "name": cut.branch.name,
                "count": cut.count,
                "least_cm": round(cut.least_cm, 1),
            }
            for cut in bought.from_garden
        ],
        "short_of": [
            {"who": each.who, "stem": each.stem, "says": words.say(each.says)}
            for each in bought.short_of
        ],
    }


def _first_help(made: Made, words: Words) -> str:
    """What helps first, in the same line."""
    return f" {words.say(made.remedies[0].says)}" if made.remedies else ""


def planned_text(planned: Planned, words: Words) -> str:
    """What was made and where, and what needs a decision."""
    plan = planned.plan
    lines = [
        words.say(Saying("cli.planned", title=plan.lesson.title, count=len(plan.people))),
        words.say(
            Saying(
                "cli.money",
                total_minor=plan.bought.total_minor,
                each_minor=plan.money.each_minor,
            )
        ),
    ]
    lines += [f"! {words.say(each)}" for each in plan.warnings]
    lines += [
        f"! {person.name}: {words.say(person.made.verdict.reason)}{_first_help(person.made, words)}"
        for person in plan.people
        if person.made is not None and person.made.verdict.word != "stands"
    ]
    lines += [f"! {words.say(each.says)}" for each in plan.bought.short_of]
    if planned.not_shown:
        lines.append("! " + words.say(Saying("cli.not-shown", letters=planned.not_shown)))
    if plan.unknown:
        names = tuple(person.name for person in plan.unknown)
        lines.append(words.say(Saying("cli.unknown", names=names, count=len(names))))
    lines += ["", words.say(Saying("cli.written", count=len(planned.files)))]
    lines.append(f"  {planned.folder}")
    return "\n".join(lines)

"""Every paper of a class from the pages: asked for, made by the worker, listed and handed out.

A job's answer is one packed folder with all papers, drawings, dates and the plan. What was printed
last is noted beside the class, with what the class was then.
"""

from __future__ import annotations

import datetime as dt
import io
import json
import zipfile
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from hashlib import sha256
from pathlib import PurePosixPath
from typing import Any

from nejime import __version__
from nejime.basis.sayings import Saying, Words
from nejime.desk.beside import note, noted
from nejime.desk.blooming import with_blooms
from nejime.desk.classes import fingerprint, read
from nejime.desk.known_plants import plants_said, said_of
from nejime.desk.plan_class import papers_of
from nejime.desk.shelf import Kept, Missing, Shelf
from nejime.desk.taught import known_rules
from nejime.lesson.plan import plan_lesson
from nejime.reading.class_file import read_class_tree

JOB = "papers"
KIND = "papers"
PLAN = "plan.json"
KEPT_DAYS = 90  # [own] after so long papers are made anew if they are wanted again
FIRST_DAY = (1980, 1, 1, 0, 0, 0)  # of a packed file, so that equal papers are equal bytes
SHARES = {"pieces": (0.0, 0.08), "papers": (0.08, 0.8), "drawings": (0.8, 1.0)}
"""[own] Which part of the time each takes: measured on a class of fourteen."""
GROUPS: Mapping[str, tuple[str, ...]] = {  # what the papers are for, by the names of their files
    "everybody": (
        "handouts",
        "handouts-large-print",
        "please-mind",
        "please-mind-large-print",
        "reckoner",
        "reckoner-tall",
        "which-bowl",
    ),
    "before": (
        "shopping",
        "preparing",
        "piles-and-sets",
        "branch-by-branch",
        "kit-and-room",
        "class",
    ),
    "on-the-day": ("teachers-sheet", "order-of-the-class", "cautions", "display-card"),
    "to-cut-out": ("lean-cards", "bowl-mats", "cutting-strips"),
}

Tell = Callable[[float, Saying | None], bool]


class _Stopped(Exception):
    """Somebody wants it to stop."""


@dataclass(frozen=True, slots=True)
class Paper:
    """One file: where it is, and what it is for."""

    file: str
    says: str


@dataclass(frozen=True, slots=True)
class Noted:
    """What should be known before anything is bought or printed: who or what, and what is so."""

    who: str
    says: str


@dataclass(frozen=True, slots=True)
class ClassPapers:
    """The papers of a class as they are now.

    `state` is that of the job, or `none`; `fresh` is whether the class is as it was then.
    """

    state: str
    share: float
    says: Saying | None
    fresh: bool
    groups: tuple[tuple[str, tuple[Paper, ...]], ...] = ()
    noted: tuple[Noted, ...] = ()
    ended: dt.datetime | None = None


# The worker


def act(shelf: Shelf, question: Mapping[str, Any], tell: Tell) -> bytes | None:
    """Makes every paper of the class in the question; nothing where it was stopped."""
    shelf.clear_jobs(dt.datetime.now(dt.UTC) - dt.timedelta(days=KEPT_DAYS))

    def progress(what: str, done: int, of: int) -> None:
        begins, ends = SHARES[what]
        says = Saying(f"class.doing.{what}", done=str(done), of=str(of))
        if tell(begins + (ends - begins) * done / max(1, of), says):
            raise _Stopped

    rules = known_rules()
    lesson = read_class_tree("", question["tree"], rules, plants_said(question))
    today = dt.date.fromisoformat(question["today"])
    try:
        plan = plan_lesson(lesson, rules, today, lambda done, of: progress("pieces", done, of))
        return packed(papers_of(plan, progress).files)
    except _Stopped:
        return None


def packed(files: Mapping[str, bytes]) -> bytes:
    """A folder of files as one file."""
    whole = io.BytesIO()
    with zipfile.ZipFile(whole, "w") as folder:
        for name, content in sorted(files.items()):
            entry = zipfile.ZipInfo(name, FIRST_DAY)
            is_packed = name.endswith(".pdf")  # a PDF is packed inside
            entry.compress_type = zipfile.ZIP_STORED if is_packed else zipfile.ZIP_DEFLATED
            folder.writestr(entry, content)
    return whole.getvalue()


# The page


def ask(shelf: Shelf, class_id: int, today: dt.date) -> None:
    """Asks for the papers of a class as it is now. Raises `Missing`."""
    kept = shelf.get(class_id)
    question = {
        "tree": with_blooms(shelf, kept.content),
        "today": today.isoformat(),
        "nejime": __version__,
    }
    question |= said_of(shelf, read(kept)[0])
    note(shelf, KIND, class_id, {"job": shelf.ask(JOB, question).id, "of": _of(shelf, kept)})


def stop(shelf: Shelf, class_id: int) -> None:
    """Stops the making of a class's papers, where they are being made."""
    job = noted(shelf, KIND, class_id).get("job")
    if job is not None:
        shelf.stop(job)


def papers(shelf: Shelf, kept: Kept, words: Words) -> ClassPapers:
    """What there is for a class, and how far what was asked for is."""
    job, of = _job(shelf, kept.id)
    fresh = of == _of(shelf, kept)
    if job is None:
        return ClassPapers("none", 0.0, None, fresh)
    if job.answer is None:
        return ClassPapers(job.state, job.progress, job.says, fresh)
    with zipfile.ZipFile(io.BytesIO(job.answer)) as folder:
        names, plan = folder.namelist(), json.loads(folder.read(PLAN))
    people = [str(each.get("name", "")) for each in job.question["tree"].get("person", [])]
    return ClassPapers(
        job.state,
        job.progress,
        job.says,
        fresh,
        tuple(_groups(names, people, words)),
        tuple(_what_to_know(plan, words)),
        job.ended_at,
    )


def paper(shelf: Shelf, class_id: int, file: str) -> bytes:
    """One file of a class's papers. Raises `Missing`."""
    answer = _answer(shelf, class_id)
    with zipfile.ZipFile(io.BytesIO(answer)) as folder:
        if file not in folder.namelist():
            raise Missing("paper", class_id)
        return folder.read(file)


def all_papers(shelf: Shelf, class_id: int) -> bytes:
    """All papers of a class, packed. Raises `Missing`."""
    return _answer(shelf, class_id)


def _answer(shelf: Shelf, class_id: int) -> bytes:
    job, _ = _job(shelf, class_id)
    if job is None or not isinstance(job.answer, bytes):
        raise Missing("paper", class_id)
    return job.answer


def _job(shelf: Shelf, class_id: int) -> tuple[Any, str]:
    """The last job for a class, and what the class was then."""
    last = noted(shelf, KIND, class_id)
    try:
        return (shelf.job(last["job"]), last["of"]) if "job" in last else (None, "")
    except Missing:
        return None, ""


def _of(shelf: Shelf, kept: Kept) -> str:
    """Equal while the class and what she said of its plants are as they were."""
    told = {**with_blooms(shelf, kept.content), **said_of(shelf, read(kept)[0])}
    return sha256(fingerprint(told).encode()).hexdigest()


def _groups(
    names: list[str], people: list[str], words: Words
) -> list[tuple[str, tuple[Paper, ...]]]:
    """The files by what they are for, in the order in which they are wanted."""
    found = []
    by_stem = {PurePosixPath(name).stem: name for name in names if "/" not in name}
    for group, stems in GROUPS.items():
        there = [
            Paper(by_stem[stem], words.say(Saying(f"class.paper.{stem}")))
            for stem in stems
            if stem in by_stem
        ]
        found.append((group, tuple(there)))
        if group == "everybody":
            own = [name for name in names if name.startswith("handouts/")]
            found.append(("each", tuple(Paper(name, _whose(name, people)) for name in own)))
    drawn = [name for name in names if name.startswith("drawings/")]
    found.append(("drawings", tuple(Paper(name, _drawn(name, people, words)) for name in drawn)))
    return [(group, files) for group, files in found if files]


def _whose(name: str, people: list[str]) -> str:
    """Whose a file is: its name begins with the number of the seat."""
    number = PurePosixPath(name).stem.partition("-")[0]
    return people[int(number) - 1] if number.isdecimal() else ""


def _drawn(name: str, people: list[str], words: Words) -> str:
    """What a drawing shows: whose piece, and from where."""
    view = PurePosixPath(name).stem.rpartition("-")[2]
    whose = _whose(name, people) or words.say(Saying("class.paper.own"))
    return words.say(Saying(f"class.paper.drawn-{view}", name=whose))


def _what_to_know(plan: Mapping[str, Any], words: Words) -> list[Noted]:
    """Warnings, pieces that do not stand, and what cannot be had."""
    found = [Noted("", each) for each in plan["warnings"]]
    for person in plan["people"]:
        verdict = person.get("verdict")
        if verdict and verdict["word"] != "stands":
            helps = [each["says"] for each in verdict.get("remedies", [])[:1]]
            found.append(Noted(person["name"], " ".join([verdict["reason"], *helps])))
    found += [Noted(each["who"], each["says"]) for each in plan["buying"]["short_of"]]
    return found

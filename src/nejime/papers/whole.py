"""All papers of one class: what each is made from, what is printed together, and the drawings.

Model: everybody whose piece looks the same shares its drawings. Handouts are printed in one run
and, besides, each as a file of its own; whoever asked for large print gets it.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from nejime import __version__
from nejime.basis.sayings import Saying, Words
from nejime.drawings.elevation import elevation
from nejime.drawings.plan import plan as plan_drawing
from nejime.drawings.scene import Scene, drawing_key, scene
from nejime.keeping.hazards import NOT_KNOWN, Caution
from nejime.lesson.lesson import Lesson
from nejime.lesson.plan import LessonPlan, Made, PersonPlan
from nejime.material.piles import branch_by_branch
from nejime.papers.blank import blank_handout
from nejime.papers.bring import bring, occasion
from nejime.papers.cautions import against, minding, of, please_mind
from nejime.papers.course import course
from nejime.papers.handout import Told, handout
from nejime.papers.kit_room import kit_room
from nejime.papers.pdf import print_sheets
from nejime.papers.piles import by_branch, cutting
from nejime.papers.reckoner import reckoner
from nejime.papers.sheet import Sheet, Stock
from nejime.papers.shopping import shopping_list
from nejime.papers.showing import showing
from nejime.papers.teacher import looks_of, teacher_sheet
from nejime.papers.timeline import timeline
from nejime.papers.true_size import bowl_mats, cutting_strips, lean_cards
from nejime.papers.wording import plant_name, said, word
from nejime.standing.draws import SEED
from nejime.standing.remedies import Remedy
from nejime.standing.verdict import Verdict

Progress = Callable[[int, int], None]
"""Told how many papers are done, and of how many."""

LARGE_PRINT = "low-vision"
OF_PINS = ("lead", "pins")
RANKED = (  # [own] what can kill, then lead and pins, then what irritates, then the rest
    "cat-fatal",
    "urushiol",
    "toxic-eaten",
    "lead",
    "pins",
    "vase-water",
    "sap-irritant",
    "allergen",
    "thorn",
    "plants",
    "blades",
    "branches",
    "water",
    "help",
)
SAID_ELSEWHERE = (  # [own] among the cautions; on the teacher's sheet
    "standing.heavy",
    "plan.no-holder-left",
)
PETS = ("cat-at-home", "dog-at-home")
MOST_REMEDIES = 2  # [own] on a handout: more are for the teacher


@dataclass(frozen=True, slots=True)
class Papers:
    """Every paper of a class as PDF, by file name, and the letters that no font of ours has."""

    files: Mapping[str, bytes]
    not_shown: tuple[str, ...]


def papers_for(plan: LessonPlan, words: Words, progress: Progress | None = None) -> Papers:
    """Every paper of a class. Raises `InputError` without fonts."""
    jobs = list(_jobs(plan, words))
    found: dict[str, bytes] = {}
    missing: list[str] = []
    for done, (name, sheets, stock, title) in enumerate(jobs, start=1):
        printed = print_sheets(sheets, stock, title)
        found[name] = printed.pdf
        missing += printed.not_shown
        if progress is not None:
            progress(done, len(jobs))
    return Papers(found, tuple(dict.fromkeys(missing)))


Job = tuple[str, Sequence[Sheet], Stock, str]


def _jobs(plan: LessonPlan, words: Words) -> Iterator[Job]:
    stock = stock_of(plan)
    yield from _handout_jobs(plan, words)
    for sheet in class_sheets(plan, words, stock):
        yield f"{sheet.name}.pdf", [sheet], stock, sheet.title


def stock_of(plan: LessonPlan, *, large: bool = False) -> Stock:
    """The paper of a planned class, stamped."""
    return paper_of(plan.lesson, large=large)


def paper_of(lesson: Lesson, *, large: bool = False) -> Stock:
    """The paper of a class, stamped."""
    return Stock(
        paper=lesson.paper,
        date=lesson.starts.date(),
        large=large or lesson.large_print,
        version=__version__,
        seed=SEED,
        author=lesson.library,
    )


def _handout_jobs(plan: LessonPlan, words: Words) -> Iterator[Job]:
    """All handouts in one file a size of print, and each one alone."""
    normal, large = stock_of(plan), stock_of(plan, large=True)
    sheets = handouts(plan, words)
    together: dict[bool, list[Sheet]] = {False: [], True: []}
    for person, sheet in zip(plan.people, sheets, strict=True):
        together[wants_large(plan, person)].append(sheet)
    for is_large, printed in together.items():
        if printed:
            name = (
                "handouts-large-print.pdf" if is_large and any(together[False]) else "handouts.pdf"
            )
            title = word(words, "handout.all", title=plan.lesson.title)
            yield name, printed, large if is_large else normal, title
    for person, sheet in zip(plan.people, sheets, strict=True):
        stock = large if wants_large(plan, person) else normal
        yield f"handouts/{sheet.name}.pdf", [sheet], stock, sheet.title
    for is_large, printed in together.items():
        if printed:
            name = f"please-mind{'-large-print' if is_large and any(together[False]) else ''}.pdf"
            sheet = please_mind(plan.cautions, words, occasion(plan.lesson, words))
            yield name, [sheet], large if is_large else normal, sheet.title


def wants_large(plan: LessonPlan, person: PersonPlan) -> bool:
    """Whether a person's handout is printed large."""
    return plan.lesson.large_print or LARGE_PRINT in person.seat.person.please_note


def handouts(plan: LessonPlan, words: Words) -> tuple[Sheet, ...]:
    """Everybody's handout, in the order of the list; equal drawings are made once."""
    drawn: dict[object, Sheet] = {}
    found = []
    for person in plan.people:
        stock = stock_of(plan, large=wants_large(plan, person))
        told = told_to(plan, person, words)
        key = (drawing_key(told.piece, told.looks), stock.large, person.made is None)
        like = drawn.get(key)
        shown = like.drawings if like else None
        if person.made is None:
            fuller = plan.lesson.fuller_third
            made = blank_handout(told, words, stock, fuller_third=fuller, drawings=shown)
        else:
            made = handout(told, words, stock, drawings=shown)
        drawn.setdefault(key, made)
        found.append(made)
    return tuple(found)


def told_to(plan: LessonPlan, person: PersonPlan, words: Words) -> Told:
    """What one person is told."""
    made = person.made or plan.demonstration
    known = person.made is not None
    return Told(
        name=person.name,
        piece=made.piece,
        file_name=file_name(person),
        occasion=occasion(plan.lesson, words, with_time=False),
        standing=standing_said(made.verdict, made.remedies) if known else (),
        notes=_remarks(made, person) if known else (),
        cautions=_cautions(plan, person, words),
        plants={
            stem: word(words, "handout.missing", plant=plant_name(name))
            if stem in made.missing
            else plant_name(name)
            for stem, name in made.plants.items()
        },
        looks=looks_of(made),
    )


def _remarks(made: Made, person: PersonPlan) -> tuple[Saying, ...]:
    """What was noted of the piece and the seat, but for what others say or the teacher sees to."""
    noted = (*made.verdict.remarks, *person.seat.remarks)
    return tuple(each for each in noted if each.key not in SAID_ELSEWHERE)


def standing_said(verdict: Verdict, helps: Sequence[Remedy]) -> tuple[Saying, ...]:
    """The word of standing, and what to do where it does not stand."""
    if verdict.word == "stands":
        return (verdict.reason,)
    return (verdict.reason, *(each.says for each in helps[:MOST_REMEDIES]))


def _cautions(plan: LessonPlan, person: PersonPlan, words: Words) -> tuple[str, ...]:
    """What a person must beware of: their own first, then the gravest.

    Of plants, those that are in the person's set, or any where nobody knows the set yet.
    """
    made = person.made
    had = made.had if made else frozenset(each.id for each in plan.plants)
    objections = [each for each in person.cautions.objections if each.plant in had]
    own = [against(each, words) for each in objections]
    own += said(words, (h.says for h in plan.cautions.heavy if h.seat == person.seat.number))
    shared = sorted(plan.cautions.of("home", "everyone"), key=_rank)
    if made is not None and made.piece.holder is None:
        shared = [each for each in shared if each.about not in OF_PINS]
    told = frozenset(each.plant for each in objections if each.note in PETS)
    return tuple(dict.fromkeys([*own, *of(_of_set(shared, had, told), words)]))


def _of_set(
    shared: Iterable[Caution], had: frozenset[str], told: frozenset[str]
) -> Iterator[Caution]:
    """Cautions kept to the plants that are there; of pets the gravest of each plant alone.

    `told`: plants of which it was said already what they do to pets.
    """
    for each in shared:
        if not each.plants:
            yield each
            continue
        plants = tuple(name for name in each.plants if name in had)
        if each.audience == "home":
            plants = tuple(name for name in plants if name not in told)
            told |= frozenset(plants)
        if plants:
            yield replace(each, plants=plants)


def _rank(caution: Caution) -> int:
    """What comes first on a handout; a plant against which nothing is known comes last."""
    if caution.about in RANKED:
        return RANKED.index(caution.about)
    return len(RANKED) + (caution.about == NOT_KNOWN)


def file_name(person: PersonPlan) -> str:
    """A file name from a seat and a name: Latin letters and figures alone."""
    plain = unicodedata.normalize("NFKD", person.name).encode("ascii", "ignore").decode()
    name = re.sub(r"[^a-z0-9]+", "-", plain.lower()).strip("-")[:40]
    return f"{person.seat.number:02}-{name}".rstrip("-")


def class_sheets(plan: LessonPlan, words: Words, stock: Stock) -> Iterator[Sheet]:
    """Every paper but the handouts."""
    lesson = plan.lesson
    above = occasion(lesson, words)
    names = [person.name for person in plan.people]
    pieces = [(p.name, p.made.piece) for p in plan.people if p.made is not None]
    every = [*pieces, (word(words, "tool.demonstration"), plan.demonstration.piece)]
    yield teacher_sheet(plan.people, words, stock, above, plan.demonstration)
    yield from _reckoners(plan, words)
    yield bring(lesson, words, stock)
    yield lean_cards(every, words, stock)
    yield bowl_mats(every, words, stock)
    yield cutting_strips(every, words, stock)
    yield shopping_list(
        plan.bought,
        plan.shopping,
        lesson.wishes,
        words,
        above,
        until=plan.going,
        load=plan.carrying,
    )
    yield cutting(plan.piles, words, above, bare=plan.bars)
    yield by_branch(branch_by_branch(plan.bought), words, above)
    yield timeline(plan.tasks, words, above)
    yield course(plan.order, lesson, words, above)
    yield kit_room(plan.kit, words, stock, above, plan.room)
    yield minding(plan.cautions, names, words, above)
    if plan.display is not None:
        yield showing(plan.display, words, above)


def _reckoners(plan: LessonPlan, words: Words) -> Iterator[Sheet]:
    """The class's form for shallow vessels and for tall vases, where the proportions have it."""
    piece = plan.demonstration.piece
    for tall in (False, True):
        if piece.rule.form(piece.form.name, "tall" if tall else "shallow") is not None:
            yield reckoner(
                piece.rule,
                piece.form.name,
                words,
                tall=tall,
                fuller_third=plan.lesson.fuller_third,
            )


def drawings_for(
    plan: LessonPlan, words: Words, progress: Progress | None = None
) -> dict[str, bytes]:
    """Front and plan of every piece as SVG, one file for pieces that look the same."""
    found: dict[str, bytes] = {}
    seen: set[str] = set()
    made = [(file_name(p), p.made) for p in plan.people if p.made is not None]
    for done, (name, each) in enumerate([*made, ("demonstration", plan.demonstration)]):
        if progress is not None:
            progress(done, len(made) + 1)
        looks = looks_of(each)
        key = drawing_key(each.piece, looks)
        if key not in seen:
            seen.add(key)
            found.update(_drawn(f"drawings/{name}", scene(each.piece, looks), words))
    return found


def _drawn(name: str, shown: Scene, words: Words) -> Mapping[str, bytes]:
    return {
        f"{name}-front.svg": elevation(shown, "front", words, width_mm=120.0).encode(),
        f"{name}-plan.svg": plan_drawing(shown, words, width_mm=120.0).encode(),
    }

"""Why the material costs what it costs: one thing changed, and everything solved again.

Model: a change makes another class of this one; what that costs is found in the same way, so each
difference is a fact and no estimate. What a wish costs is what is saved without it; the dearest is
asked once more with its stand-ins as welcome as what was wished for.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace

from nejime.basis.sayings import Saying
from nejime.forms.rules import Rule
from nejime.lesson.lesson import Lesson, Person
from nejime.lesson.pieces import demonstration, seats
from nejime.lesson.supplying import stems_of
from nejime.material.buying import Buying, buying
from nejime.material.programme import Limits
from nejime.material.supply import Wish
from nejime.material.wanted import Choice, StemWanted
from nejime.plants.table import plant

LOOSER_PERCENT = 5.0  # [own] as much again as a lesson tolerates
SURER_PERCENT = 99  # [own]


@dataclass(frozen=True, slots=True)
class Change:
    """One thing changed. `quantities` are those of its sentence, `material.reason.<key>`."""

    key: str
    quantities: Mapping[str, object]
    lesson: Lesson
    stems: Callable[[StemWanted], StemWanted | None] | None = None
    """What becomes of each stem wanted; None where it is not wanted any more."""


@dataclass(frozen=True, slots=True)
class Reason:
    """What a change does to the money: how much more it is, or less where negative.

    `missing` stems would be wanting then. `proven`: both are the least there is.
    """

    says: Saying
    more_minor: int
    total_minor: int
    missing: int
    proven: bool


def changes(lesson: Lesson, bought: Buying) -> Iterator[Change]:
    """Everything that is asked about a class whose material is bought so, in order of interest."""
    yield Change("one-more", {}, replace(lesson, people=(*lesson.people, Person("+1"))))
    if len(lesson.people) > 1:
        last = lesson.people[-1]
        yield Change("one-fewer", {"name": last.name}, replace(lesson, people=lesson.people[:-1]))
    for at in bought.by_shop:
        rest = tuple(shop for shop in lesson.shops if shop != at.shop)
        yield Change("without-shop", {"shop": at.shop.name}, replace(lesson, shops=rest))
    if any(use.from_garden for use in bought.uses):
        yield Change("without-garden", {}, replace(lesson, garden=()))
    if any(use.wanted.purpose == "spare" for use in bought.uses):
        yield Change("without-spares", {}, lesson, _no_spare)
    if lesson.spare_percent is None and lesson.sure_percent < SURER_PERCENT:
        surer = replace(lesson, sure_percent=SURER_PERCENT)
        yield Change("surer", {"count": SURER_PERCENT}, surer)
    if any(each.least_cm > 0 for each in (use.wanted for use in bought.uses)):
        yield Change("looser", {"percent": f"{LOOSER_PERCENT:g}"}, lesson, _looser)
    if not lesson.split_shops and len(lesson.shops) > 1:
        yield Change("split", {}, replace(lesson, split_shops=True))


def reason(
    change: Change, base: Buying, known: Mapping[str, Rule], limits: Limits | None = None
) -> Reason:
    """What a change does to the money. Raises `InputError`."""
    after = changed(change, known, limits)
    missing = sum(each.count for each in after.short_of if not each.mild)
    more = after.total_minor - base.total_minor
    way = "missing" if missing else "more" if more > 0 else "less" if more < 0 else "same"
    quantities = {
        **change.quantities,
        "more_minor": abs(more),
        "total_minor": after.total_minor,
        "missing": str(missing),
    }
    says = Saying(f"material.reason.{change.key}.{way}", **quantities)
    proven = base.proven and after.proven
    return Reason(says, more, after.total_minor, missing, proven)


def changed(change: Change, known: Mapping[str, Rule], limits: Limits | None = None) -> Buying:
    """What is bought with one thing changed. Raises `InputError`."""
    lesson = change.lesson
    wanted = stems_of(lesson, seats(lesson, known), demonstration(lesson, known))
    if change.stems is not None:
        wanted = tuple(each for each in map(change.stems, wanted) if each is not None)
    return buying(wanted, lesson.shops, lesson.garden, split=lesson.split_shops, limits=limits)


def without_wish(lesson: Lesson, wish: Wish) -> Change:
    """The class without the stems of a wish."""
    names = plant(wish.plant).english
    quantities = {"plant": names, "role": Saying(f"papers.wish-role.{wish.role}")}

    def left(wanted: StemWanted) -> StemWanted | None:
        return None if _of(wanted, wish) else wanted

    return Change("without-wish", quantities, lesson, left)


def with_stand_ins(lesson: Lesson, wish: Wish) -> Change:
    """The class with the stand-ins of a wish as welcome as what is wished for."""
    quantities = {
        "plant": plant(wish.plant).english,
        "stand_ins": tuple(plant(each.plant).english for each in wish.stand_ins),
        "role": Saying(f"papers.wish-role.{wish.role}"),
    }

    def welcome(wanted: StemWanted) -> StemWanted:
        if not _of(wanted, wish):
            return wanted
        choices = (
            wanted.choices[0],
            *(Choice(each.plant, "as good") for each in wanted.choices[1:]),
        )
        return replace(wanted, choices=choices)

    return Change("stand-in", quantities, lesson, welcome)


def dearest(
    lesson: Lesson, base: Buying, known: Mapping[str, Rule], limits: Limits | None = None
) -> tuple[Reason, ...]:
    """The dearest wish, and what it would cost with its stand-ins. Raises `InputError`."""
    if not base.total_minor or not lesson.wishes:
        return ()
    asked = [
        (reason(without_wish(lesson, wish), base, known, limits), wish) for wish in lesson.wishes
    ]
    worth, wish = min(asked, key=lambda pair: pair[0].more_minor)
    if worth.more_minor >= 0:
        return ()
    unwelcome = [each for each in wish.stand_ins if each.how != "as good"]
    if not unwelcome:
        return (worth,)
    return worth, reason(with_stand_ins(lesson, wish), base, known, limits)


def _of(wanted: StemWanted, wish: Wish) -> bool:
    """Whether a stem is wanted because of a wish; a spare is not counted to any."""
    return wanted.purpose != "spare" and wanted.role == wish.role and wanted.wished == wish.plant


def _no_spare(wanted: StemWanted) -> StemWanted | None:
    return None if wanted.purpose == "spare" else wanted


def _looser(wanted: StemWanted) -> StemWanted:
    share = 1 - LOOSER_PERCENT / 100
    return replace(wanted, least_cm=wanted.least_cm * share)

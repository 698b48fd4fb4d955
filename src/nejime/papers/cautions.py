"""The cautions of a class: all of them for the teacher, and what everybody takes along."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from nejime.basis.sayings import Words
from nejime.keeping.hazards import Caution, Objection
from nejime.lesson.cautions import ClassCautions
from nejime.papers import sections
from nejime.papers.sections import Cell, strong
from nejime.papers.sheet import Sheet
from nejime.papers.wording import plant_name, said, word


def minding(found: ClassCautions, names: Sequence[str], words: Words, above: str = "") -> Sheet:
    """All cautions of one class, for the teacher. `names`: the people in the order of the seats."""
    listed = [
        sections.points(word(words, "cautions.blocks"), _objections(found, names, words)),
        sections.points(word(words, "cautions.everyone"), of(found.of("everyone"), words)),
        sections.points(word(words, "cautions.teacher"), of(found.of("teacher"), words)),
        sections.points(word(words, "cautions.people"), _people(found, names, words)),
        sections.points(
            word(words, "cautions.heavy"),
            [_heavy(found, names, words)] if found.heavy else [],
        ),
        sections.points(word(words, "cautions.home"), of(found.of("home"), words)),
    ]
    return sections.sheet("cautions", word(words, "cautions.title"), above, listed)


def please_mind(found: ClassCautions, words: Words, above: str = "") -> Sheet:
    """What everybody must beware of, in class and at home, to be taken along; nobody is named."""
    listed = [
        sections.points(word(words, f"cautions.{audience}"), of(found.of(audience), words))
        for audience in ("everyone", "home")
    ]
    return sections.sheet("please-mind", word(words, "cautions.title-all"), above, listed)


def of(cautions: Iterable[Caution], words: Words) -> list[str]:
    """Cautions as sentences, each with the plants that it is about."""
    return list(
        dict.fromkeys(
            word(
                words,
                "cautions.which",
                plants=", ".join(plant_name(each) for each in caution.plants),
                says=caution.says,
            )
            if caution.plants
            else words.say(caution.says)
            for caution in cautions
        )
    )


def _whose(seat: int, names: Sequence[str], words: Words) -> str:
    if not 0 < seat <= len(names):
        return word(words, "cautions.whole")
    return word(words, "cautions.seat", seat=str(seat), name=names[seat - 1])


def _objections(found: ClassCautions, names: Sequence[str], words: Words) -> list[Cell]:
    every: list[tuple[int, Objection]] = [(0, each) for each in found.objections]
    every += [(person.seat, each) for person in found.people for each in person.objections]
    seats = dict.fromkeys(seat for seat, _ in every)
    return [
        [
            strong(_whose(seat, names, words)),
            *(against(each, words) for at, each in every if at == seat),
        ]
        for seat in seats
    ]


def against(objection: Objection, words: Words) -> str:
    """Why a plant should not go with somebody, and what to do."""
    return f"{words.say(objection.says)} {words.say(objection.try_instead)}"


def _heavy(found: ClassCautions, names: Sequence[str], words: Words) -> str:
    """Whose vessel is heavy once filled, and how heavy, in one line."""
    ours = word(words, "tool.demonstration")
    return "; ".join(
        word(
            words,
            "cautions.heavy-one",
            who=_whose(heavy.seat, names, words) if heavy.seat else ours,
            filled_kg=heavy.filled_g / 1000,
        )
        for heavy in found.heavy
    )


def _people(found: ClassCautions, names: Sequence[str], words: Words) -> list[Cell]:
    return [
        [strong(_whose(person.seat, names, words)), " ".join(said(words, person.notes))]
        for person in found.people
        if person.notes
    ]

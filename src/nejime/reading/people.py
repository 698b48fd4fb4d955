"""Who comes, with which vessel, and whether the form can be made in it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from nejime.basis.errors import Fault, InputError
from nejime.basis.places import Path
from nejime.forms.holder import Holder
from nejime.forms.piece import piece, rule_for
from nejime.forms.rules import KINDS, Rule
from nejime.forms.vessel import Vessel
from nejime.lesson.lesson import Person
from nejime.reading.checking import Sheet
from nejime.reading.fields import shown
from nejime.reading.lending import Stock, note_same_names
from nejime.reading.tables import ClassTable, DemonstrationTable, PersonTable
from nejime.reading.vessels import read_holder, read_vessel

MOST_PEOPLE = 400  # [own] more do not fit into any library's room

Placed = tuple[Path, Person]


def read_people(sheet: Sheet, vessels: Stock[Vessel], holders: Stock[Holder]) -> list[Placed]:
    """The `[[person]]` tables, each with its place."""
    tables = sheet.tables("person")
    if sheet.tree.get("person", []) == []:
        sheet.wrong(("person",), "reading.nobody")
    if len(tables) > MOST_PEOPLE:
        sheet.wrong(("person",), "reading.too-many-people", people=len(tables), most=MOST_PEOPLE)
        return []
    note_same_names(sheet, tables)
    found = []
    for at, value in tables:
        table = sheet.checked(PersonTable, value, at)
        given = value if isinstance(value, dict) else {}
        bowl = _vessel(sheet, given.get("vessel"), (*at, "vessel"), vessels)
        held = _holder(sheet, given.get("holder"), (*at, "holder"), holders)
        if table is not None:
            found.append((at, _person(table, bowl, held)))
    return found


def _person(table: PersonTable, bowl: Vessel | None, held: Holder | None) -> Person:
    return Person(
        name=table.name,
        vessel=bowl,
        lent=isinstance(table.vessel, str),
        holder=held,
        form=table.form,
        size=table.size,
        opens=table.opens,
        please_note=table.please_note,
        remark=table.note,
    )


def _vessel(sheet: Sheet, value: object, at: Path, lent: Stock[Vessel]) -> Vessel | None:
    """A vessel that is lent, by its name, or somebody's own, by its table."""
    if value is None:
        return None
    return lent.lent(sheet, value, at) if isinstance(value, str) else read_vessel(sheet, value, at)


def _holder(sheet: Sheet, value: object, at: Path, lent: Stock[Holder]) -> Holder | None:
    if value is None:
        return None
    return lent.lent(sheet, value, at) if isinstance(value, str) else read_holder(sheet, value, at)


def read_demonstration(sheet: Sheet, vessels: Stock[Vessel]) -> Vessel | None:
    """The teacher's own vessel, from `[demonstration]`."""
    table = sheet.one("demonstration", DemonstrationTable)
    if table is None:
        return None
    return _vessel(sheet, table.vessel, ("demonstration", "vessel"), vessels)


def note_impossible_forms(
    sheet: Sheet,
    table: ClassTable,
    rules: Mapping[str, Rule],
    people: Sequence[Placed],
    demonstration: Vessel | None,
) -> None:
    """Notes everybody whose vessel cannot hold the form, and a form that nobody can make."""
    if table.proportions not in (None, *rules):
        return
    forms = _Forms(sheet, table, dict(rules))
    if not forms.in_class():
        people = [(at, person) for at, person in people if person.form is not None]
        demonstration = None
    for at, person in people:
        forms.check(at, person)
    if demonstration is not None:
        forms.check(("demonstration",), Person("", demonstration, lent=True))


@dataclass(slots=True)
class _Forms:
    sheet: Sheet
    table: ClassTable
    rules: dict[str, Rule]

    def in_class(self) -> bool:
        """Whether the class's own form and size exist in its proportions at all."""
        rule = self.rules.get(self.table.proportions or "")
        if rule is None:
            return True
        found = [form for kind in KINDS if (form := rule.form(self.table.form, kind))]
        if not found:
            choices = sorted({name for name, _ in rule.forms})
            self.sheet.wrong(
                ("class", "form"),
                "reading.no-such-form",
                form=self.table.form,
                rule=rule.title,
                choices=", ".join(choices),
            )
        elif not any(self.table.size in form.factor for form in found):
            self.sheet.wrong(
                ("class", "size"),
                "reading.no-such-size",
                size=self.table.size,
                rule=rule.title,
                choices=", ".join(found[0].factor),
            )
            return False
        return bool(found)

    def check(self, at: Path, person: Person) -> None:
        """Makes the piece, to see whether it can be made; an unknown vessel may be of any kind."""
        if person.vessel is None:
            self._check_unknown(at, person)
            return
        try:
            piece(
                person.vessel,
                self._rule(person, person.vessel),
                person.form or self.table.form,
                size=person.size or self.table.size,
                opens=person.opens or self.table.opens,
                held=person.holder,
            )
        except InputError as trouble:
            self.sheet.borrow(at, (_at_vessel(fault, person) for fault in trouble.faults))

    def _rule(self, person: Person, vessel: Vessel) -> Rule:
        if self.table.proportions is not None:
            return self.rules[self.table.proportions]
        return rule_for(
            person.form or self.table.form, self.rules, "tall" if vessel.tall else "shallow"
        )

    def _check_unknown(self, at: Path, person: Person) -> None:
        rule = self.rules.get(self.table.proportions or "")
        if rule is None or person.form is None:
            return
        if not any(rule.form(person.form, kind) for kind in KINDS):
            self.sheet.wrong(
                (*at, "form"),
                "reading.no-such-form",
                form=shown(person.form),
                rule=rule.title,
                choices=", ".join(sorted({name for name, _ in rule.forms})),
            )


def _at_vessel(fault: Fault, person: Person) -> Fault:
    """A vessel that is lent is one word: a fault of its floor is told at that word."""
    if person.lent and fault.field.startswith("vessel."):
        return Fault("vessel", fault.says, fault.try_instead)
    return fault

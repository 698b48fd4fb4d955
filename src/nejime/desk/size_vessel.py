"""Size a vessel: from a bowl at the door to the stems that belong in it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from nejime.basis.errors import Fault, InputError, refuse
from nejime.basis.sayings import Saying
from nejime.forms import shortfall
from nejime.forms.holder import Holder, holder
from nejime.forms.limits import checked_vessel, not_one_of
from nejime.forms.piece import piece, rule_for
from nejime.forms.rules import FORMS, SIZES, Rule, Size, rules
from nejime.forms.shortfall import WayOut
from nejime.forms.stems import Opens, Piece, Role
from nejime.forms.supporting import MOST, with_supporting

HOLDER_CM = (2.0, 30.0)  # [own] the smallest and the widest pin holder that anybody sells


def chosen_rule(
    name: str | None, form: str, tall: bool, own_rules: Mapping[str, str] | None = None
) -> Rule:
    """The proportions asked for; without a name, the usual ones that have the form."""
    known = rules(own_rules)
    if form not in FORMS:
        raise InputError([not_one_of("form", form, FORMS)])
    if name is None:
        return rule_for(form, known, "tall" if tall else "shallow")
    if name not in known:
        raise InputError([not_one_of("proportions", name, tuple(sorted(known)))])
    return known[name]


def made_holder(diameter_cm: float | None, mass_g: float | None = None) -> Holder | None:
    """A round pin holder of a stated diameter; None where none is stated."""
    if diameter_cm is None:
        return None
    least, most = HOLDER_CM
    if not least <= diameter_cm <= most:
        raise refuse(
            "holder",
            "limits.outside-cm",
            "limits.measure-again",
            value_cm=diameter_cm,
            least_cm=least,
            most_cm=most,
        )
    return holder(diameter_cm, mass_g=mass_g)


def too_short(planned: Piece, branch_cm: float) -> tuple[WayOut, ...]:
    """What can be done with a branch that falls short of the first stem; empty if it does not."""
    if not shortfall.too_short(planned, "first", branch_cm):
        return ()
    return shortfall.ways_out(planned, "first", branch_cm)


def _check_counts(counts: Mapping[str, int]) -> None:
    """Refuses more supporting stems than there are places, and fewer than none."""
    roles: dict[str, Role] = {"helpers": "helper", "hearts": "heart", "leaves": "leaf"}
    faults = [
        Fault(name, Saying("desk.count", value=count, most=MOST[roles[name]]), None)
        for name, count in counts.items()
        if not 0 <= count <= MOST[roles[name]]
    ]
    if faults:
        raise InputError(faults)


def size_vessel(
    shape: str,
    numbers: Mapping[str, float | None],
    form: str = "upright",
    *,
    rule: str | None = None,
    size: Size = "usual",
    opens: Opens = "right",
    holder_cm: float | None = None,
    water_cm: float | None = None,
    fuller_third: bool = False,
    helpers: int = 0,
    hearts: int = 0,
    leaves: int = 0,
    own_rules: Mapping[str, str] | None = None,
    **looks: Any,
) -> Piece:
    """The stems of a form in a vessel given by a few numbers.

    `own_rules`: a teacher's own proportions, text by file name. `looks`: `ware`, `wall`, `name`
    of the vessel. Raises `InputError` with every fault.
    """
    made = checked_vessel(shape, numbers, **looks)
    if size not in SIZES:
        raise InputError([not_one_of("size", size, SIZES)])
    if water_cm is not None and not 0.0 < water_cm <= made.inside_cm:
        raise refuse(
            "water",
            "limits.outside-cm",
            "limits.measure-again",
            value_cm=water_cm,
            least_cm=0.5,
            most_cm=made.inside_cm,
        )
    planned = piece(
        made,
        chosen_rule(rule, form, made.tall, own_rules),
        form,
        size=size,
        opens=opens,
        held=made_holder(holder_cm),
        water_cm=water_cm,
        fuller_third=fuller_third,
    )
    _check_counts({"helpers": helpers, "hearts": hearts, "leaves": leaves})
    return with_supporting(planned, helpers=helpers, hearts=hearts, leaves=leaves)

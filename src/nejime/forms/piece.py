"""A piece from a vessel, proportions, a form and a size: holder, water, and the three main stems.

Frame: the house frame; see `basis.angles`.
Source: proportions in `data/rules`.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace

from nejime.basis.errors import refuse
from nejime.basis.sayings import Saying
from nejime.forms.holder import Holder, fits, largest_that_fits
from nejime.forms.leaning import main_stem, start_of, water_z_cm
from nejime.forms.placing import Place, mirrored_place, place, place_by_season
from nejime.forms.rules import DEFAULT_RULE, MAIN, Form, Rule, Size
from nejime.forms.stems import Opens, Piece, Stem, base_cm, stem_name
from nejime.forms.vessel import Vessel

WATER_CM = 3.0  # [practice] usual depth over pins
LONG_OVER_SHORT = 2.5  # [practice] an oblong so long makes the usual piece very large
BEARABLE_DEG = 5.0  # [own] a rim that takes less than this from a lean is not worth a word


def piece(
    vessel: Vessel,
    rule: Rule,
    form_name: str,
    *,
    size: Size = "usual",
    opens: Opens = "right",
    held: Holder | None = None,
    water_cm: float | None = None,
    fuller_third: bool = False,
    season: str | None = None,
) -> Piece:
    """The three main stems of a form in a vessel.

    `held`: the pin holder; the largest usual one that lies flat where none is given. `season`: the
    holder goes by it (`placing.place_by_season`) where the form lets it. Raises `InputError` where
    the proportions have no such form, the size is not taught, or no holder lies flat.
    """
    form = _form(rule, form_name, vessel)
    if size not in form.factor:
        raise refuse(
            "size",
            "forms.no-size",
            "forms.no-size-try",
            size=size,
            rule=rule.title,
            choices=", ".join(form.factor),
        )
    used = None if vessel.tall else _holder(held, vessel)
    taught = place_by_season(form.holder, season) if form.season_moves_holder else form.holder
    wanted = taught if opens == "right" else mirrored_place(taught)
    where = place(wanted, used, vessel) if used else Place("middle", "middle", 0.0, 0.0)
    water = depth_of_water(vessel, used, water_cm)
    bare = Piece(vessel, used, where, rule, form, size, opens, water, (), (), fuller_third, season)
    lengths = _lengths(bare, fuller_third)
    stems = tuple(main_stem(bare, stem, lengths[stem]) for stem in MAIN)
    return replace(bare, stems=stems, remarks=_remarks(bare, stems))


def _form(rule: Rule, form_name: str, vessel: Vessel) -> Form:
    kind = "tall" if vessel.tall else "shallow"
    form = rule.form(form_name, kind)
    if form is None:
        known = sorted({name for name, has in rule.forms if has == kind})
        raise refuse(
            "form",
            f"forms.no-form-{kind}",
            "forms.no-form-try" if known else "forms.no-form-no-choice",
            form=form_name,
            rule=rule.title,
            choices=", ".join(known),
        )
    return form


def _holder(held: Holder | None, vessel: Vessel) -> Holder:
    if held is None:
        found = largest_that_fits(vessel)
        if found is None:
            raise refuse(
                "vessel.floor_width",
                "forms.no-holder",
                "forms.no-holder-try",
                floor_cm=min(vessel.floor_width_cm, vessel.floor_depth_cm),
            )
        return found
    if not fits(held, vessel):
        raise refuse(
            "holder",
            "forms.holder-too-wide",
            "forms.holder-too-wide-try",
            holder_cm=max(held.width_cm, held.depth_cm),
            floor_cm=min(vessel.floor_width_cm, vessel.floor_depth_cm),
        )
    return held


def depth_of_water(vessel: Vessel, held: Holder | None, asked_cm: float | None) -> float:
    """The water's depth: as asked, else enough to cover the pins, or a tall vase to the brim."""
    if asked_cm is not None:
        return min(asked_cm, vessel.inside_cm)
    if held is None:
        return vessel.most_water_cm
    return min(max(WATER_CM, held.cover_cm), vessel.most_water_cm)


def _lengths(bare: Piece, fuller_third: bool) -> dict[str, float]:
    """Lengths by the rule: from the pins in a shallow vessel, above the mouth in a tall one."""
    rule, size = bare.rule, bare.size
    first = bare.form.factor[size] * base_cm(rule, bare.vessel)
    if rule.measures == "height":
        first = _length_of_height(bare, first)
    lengths = {"first": first}
    for stem, ratio in (("second", rule.second), ("third", rule.third)):
        share = ratio.by_size.get(size, ratio.by_size.get("usual", 1.0))
        if stem == "third" and fuller_third:
            share = max(share, rule.third.by_size.get("small", share))
        lengths[stem] = lengths[ratio.of] * share
    return lengths


def _length_of_height(bare: Piece, height_cm: float) -> float:
    """Length of the first stem whose end is `height_cm` above the water."""
    start_z = start_of(bare, "first").z_cm
    rise = height_cm + water_z_cm(bare) - start_z
    return rise / math.cos(math.radians(bare.form.first.tilt_deg.aim))


def _remarks(bare: Piece, stems: tuple[Stem, ...]) -> tuple[Saying, ...]:
    """What the teacher should know of this vessel, not faults."""
    said = list(bare.place.remarks)
    vessel = bare.vessel
    if vessel.longest_cm > min(vessel.width_cm, vessel.depth_cm):
        said.append(Saying("forms.measure-used", long_cm=vessel.longest_cm, size_cm=vessel.size_cm))
    if (
        not vessel.tall
        and bare.size != "small"
        and vessel.longest_cm > LONG_OVER_SHORT * min(vessel.width_cm, vessel.depth_cm)
    ):
        said.append(Saying("forms.offer-small", long_cm=stems[0].length_cm))
    for stem in stems:
        if stem.bend_deg > 0 and stem.tilt_deg >= 90:
            said.append(
                Saying("forms.bend-at-mouth", stem=stem_name(stem.id), bend_deg=stem.bend_deg)
            )
        elif stem.tilt_deg - stem.stands_deg > BEARABLE_DEG:
            said.append(
                Saying(
                    "forms.dip-lifts" if vessel.tall else "forms.rim-lifts",
                    stem=stem_name(stem.id),
                    tilt_deg=stem.tilt_deg,
                    stands_deg=stem.stands_deg,
                )
            )
    if bare.holder is not None and bare.water_cm < bare.holder.cover_cm:
        said.append(Saying("forms.pins-dry", water_cm=bare.water_cm, pins_cm=bare.holder.height_cm))
    return tuple(said)


def rule_for(form_name: str, known: dict[str, Rule], kind: str) -> Rule:
    """The proportions for a form when nobody chose any: the usual ones, else the first that has it.

    Raises `InputError` where none has it.
    """
    order = sorted(known.values(), key=lambda rule: (rule.name != DEFAULT_RULE, rule.name))
    for rule in order:
        if rule.form(form_name, kind) is not None:
            return rule
    choices = sorted({name for rule in order for name, has in rule.forms if has == kind})
    raise refuse(
        "form",
        f"forms.nobody-has-{kind}",
        f"forms.nobody-has-{kind}-try",
        form=form_name,
        rule="",
        choices=", ".join(choices),
    )


def rule_of_name(name: str, form_name: str, kind: str, known: Mapping[str, Rule]) -> Rule:
    """The proportions of a name where they have the form; else those that do.

    Raises `InputError` where none has it.
    """
    named = known.get(name)
    if named is not None and named.form(form_name, kind) is not None:
        return named
    return rule_for(form_name, dict(known), kind)

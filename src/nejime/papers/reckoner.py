"""The reckoner: three lengths for a bowl that nobody announced, with no electricity.

Model: one line for each size of vessel, counted in whole steps; the lengths on it are those of a
round dish of that size, computed as for everybody else. Side one in centimetres, side two in
inches.
"""

from __future__ import annotations

from typing import Any

from nejime.basis.sayings import Saying, Words
from nejime.basis.units import CM_PER_INCH
from nejime.forms.piece import piece
from nejime.forms.rules import MAIN, SIZES, Rule, Size
from nejime.forms.vessel import Shape, Vessel, vessel
from nejime.papers.sheet import Sheet
from nejime.papers.wording import direction, fixed, lean, sentence, word

SIZES_CM = tuple(range(15, 61, 3))  # [own] a cereal bowl to a dish of half a metre
SIZES_IN = tuple(range(6, 25))  # [own] the same in inches
DISH_HEIGHT = 0.2  # [own] height of the dish that stands for a size, over that size
VASE_WIDTH = 0.3  # [own] mouth of the vase that stands for a size, over that size


def reckoner(
    rule: Rule, form_name: str, words: Words, *, tall: bool = False, fuller_third: bool = False
) -> Sheet:
    """Two sides, centimetres and inches, for one form in shallow vessels or in tall vases."""
    form = Saying(f"papers.form.{form_name}")
    data: dict[str, Any] = {
        "fixed": fixed(words, "reckoner"),
        "rule": sentence(word(words, "reckoner.rule", rule=rule.title, form=form)),
        "how": how(rule, words, tall),
        "labels": [{"kanji": rule.label[stem].kanji} for stem in MAIN],
        "tables": {
            unit: table(rule, form_name, unit, words, tall=tall, fuller_third=fuller_third)
            for unit in ("cm", "in")
        },
        "leans": leans(rule, form_name, words, tall),
    }
    title = word(words, "reckoner.title")
    name = "reckoner-tall" if tall else "reckoner"
    return Sheet(name, "reckoner", title, data, {}, rule.name)


def how(rule: Rule, words: Words, tall: bool) -> list[str]:
    """How the table is read, a sentence each."""
    base = rule.base["tall" if tall else "shallow"].replace(" + ", "-")
    keys = (f"say-{base}", "between", "tall" if tall else "shallow")
    return [word(words, f"reckoner.{key}") for key in keys]


def leans(rule: Rule, form_name: str, words: Words, tall: bool) -> list[dict[str, str]]:
    """How far each main stem leans and where it points, in the piece that opens to the right."""
    form = rule.forms[form_name, "tall" if tall else "shallow"]
    return [
        {
            "stem": word(words, f"stem.{stem}"),
            "romaji": rule.label[stem].romaji,
            "kanji": rule.label[stem].kanji,
            "lean": sentence(words.say(lean(form.lean(stem).tilt_deg.aim))),
            "degrees": words.quantity("tilt_deg", form.lean(stem).tilt_deg.aim),
            "direction": sentence(words.say(direction(form.lean(stem).bearing_deg.aim))),
        }
        for stem in MAIN
    ]


def table(
    rule: Rule,
    form_name: str,
    unit: str,
    words: Words,
    *,
    tall: bool = False,
    fuller_third: bool = False,
    sizes: tuple[Size, ...] = SIZES,
) -> dict[str, Any]:
    """The table in one unit: the head of its first column, the sizes of piece, the lines."""
    form = rule.forms[form_name, "tall" if tall else "shallow"]
    taught = [size for size in sizes if size in form.factor]
    base = rule.base["tall" if tall else "shallow"]
    plain = Words(words.language, "in" if unit == "in" else "cm")
    steps = [float(step) for step in SIZES_CM]
    if unit == "in":
        steps = [step * CM_PER_INCH for step in SIZES_IN]
    return {
        "base": word(words, f"reckoner.base-{base.replace(' + ', '-')}"),
        "unit": word(words, f"unit.{unit}"),
        "sizes": [word(words, f"size-head.{size}") for size in taught],
        "lines": [
            {
                "base": _number(plain, step_cm),
                "lengths": [
                    [_number(plain, each) for each in lengths]
                    for lengths in (
                        lengths_cm(rule, form_name, step_cm, size, tall, fuller_third)
                        for size in taught
                    )
                ],
            }
            for step_cm in steps
        ],
    }


def lengths_cm(
    rule: Rule, form_name: str, size_cm: float, size: Size, tall: bool, fuller_third: bool
) -> list[float]:
    """The three lengths for a vessel of which the rule's measure is `size_cm`."""
    shown = _standing_for(rule, size_cm, tall)
    made = piece(shown, rule, form_name, size=size, fuller_third=fuller_third)
    return [stem.length_cm for stem in made.main]


def _standing_for(rule: Rule, size_cm: float, tall: bool) -> Vessel:
    """The dish or vase of which the rule's measure is `size_cm`."""
    base = rule.base["tall" if tall else "shallow"]
    shape: Shape = "vase" if tall else "round"
    share = 1 - VASE_WIDTH if tall else DISH_HEIGHT
    if base == "width":
        return vessel(shape, size_cm, max(size_cm * DISH_HEIGHT, 4.0))
    if base == "height":
        return vessel(shape, size_cm * VASE_WIDTH + 3.0, size_cm)
    return vessel(shape, size_cm * (1 - share), size_cm * share)


def _number(words: Words, value_cm: float) -> str:
    """A length without its unit: the head of the table has it."""
    text = words.quantity("length_cm", value_cm, bare=True)
    return text.rpartition(" ")[0] or text

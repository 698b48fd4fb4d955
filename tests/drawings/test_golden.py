"""A few drawings as they were when somebody last looked at them. They detect change, no more.

After a wanted change, look at the new drawings and run the tests with NEJIME_NEW_GOLDEN=1.
"""

import os
import re
from pathlib import Path

import pytest

from nejime.basis.sayings import Words
from nejime.drawings.elevation import elevation
from nejime.drawings.icons import vessel_icon
from nejime.drawings.plan import plan
from nejime.drawings.scene import Look, scene
from nejime.forms.piece import piece
from nejime.forms.rules import packaged
from nejime.forms.vessel import vessel

GOLDEN = Path(__file__).parent.parent / "golden"
WITHIN = 0.021  # two hundredths of a millimetre: rounding on another machine
NUMBER = re.compile(r"-?\d+(?:\.\d+)?")

RULE = packaged()["width-plus-height"]
BOWL = piece(vessel("bowl", 15, 5.5, wall="curved"), RULE, "upright")
LOOKS = {
    "first": Look("branch", 8, 2, "bare-twig"),
    "second": Look("branch", 6, 2, "bare-twig"),
    "third": Look("flower", 6, 4, "cup"),
}
DRAWINGS = {
    "bowl-front": lambda: elevation(scene(BOWL, LOOKS), "front", Words()),
    "bowl-plan-teacher": lambda: plan(scene(BOWL, LOOKS), Words(unit="in"), turned=True),
    "vase-icon": lambda: vessel_icon(vessel("vase", 10, 25), Words(unit="both")),
}


def differences(drawn, golden):
    """Lines that differ in more than rounding, numbered from 1."""
    ours, theirs = drawn.splitlines(), golden.splitlines()
    if len(ours) != len(theirs):
        return [f"{len(ours)} lines, were {len(theirs)}"]
    return [
        f"line {number}"
        for number, (one, other) in enumerate(zip(ours, theirs, strict=True), start=1)
        if not _same(one, other)
    ]


def _same(one, other):
    if NUMBER.sub("#", one) != NUMBER.sub("#", other):
        return False
    pairs = zip(NUMBER.findall(one), NUMBER.findall(other), strict=True)
    return all(abs(float(a) - float(b)) <= WITHIN for a, b in pairs)


@pytest.mark.parametrize("name", DRAWINGS)
def test_the_drawing_is_as_it_was(name):
    file = GOLDEN / f"{name}.svg"
    drawn = DRAWINGS[name]()
    if os.environ.get("NEJIME_NEW_GOLDEN"):
        file.write_text(drawn, encoding="utf-8")
    assert differences(drawn, file.read_text(encoding="utf-8")) == []


def test_the_comparison_can_fail():
    drawn = DRAWINGS["vase-icon"]()
    assert differences(drawn, drawn) == []
    moved = drawn.replace('<text x="', '<text x="1', 1)
    assert len(differences(drawn, moved)) == 1
    assert differences(drawn, drawn.replace("10 cm", "11 cm"))
    assert "lines, were" in differences(drawn, drawn + "<!-- more -->")[0]
    nudged = drawn.replace('<text x="', '<text x="0', 1)
    assert differences(drawn, nudged) == []

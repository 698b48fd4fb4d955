"""Pieces by hand for the checks: a dish, three main stems as told, others beside them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from hypothesis import strategies as st

from nejime.basis.angles import Point
from nejime.composing.checks import Finding, findings
from nejime.composing.material import Material
from nejime.composing.moves import set_stem
from nejime.composing.setting import setting
from nejime.forms.holder import holder
from nejime.forms.piece import piece
from nejime.forms.rules import packaged
from nejime.forms.stems import Piece
from nejime.forms.vessel import vessel

RULES = packaged()
DISH = vessel("round", 30, 6)
BRANCH = Material("branch", "quince", "pink", 7.0, foliage_cm=0.8, woody=True)
TULIP = Material("flower", "tulip", "white", 5.0, head_cm=4.0, head_g=8.0, foliage_cm=0.8)
HEART = Material("flower", "anemone", "violet", 6.0, head_cm=6.0, head_g=12.0, foliage_cm=0.8)

# (across and away of the foot, stalk, lean, direction, droop, half length, half width), in cm and
# degrees: low leaves that bend over the pins and hide them.
Leaf = tuple[float, float, float, float, float, float, float, float]
CLUMP: tuple[Leaf, ...] = (
    (0.0, 1.5, 3.0, 25.0, 180.0, 45.0, 6.0, 3.5),
    (-1.5, 1.5, 3.0, 25.0, 220.0, 45.0, 5.5, 3.5),
    (1.5, 1.0, 3.0, 25.0, 140.0, 45.0, 5.5, 3.5),
    (0.0, 0.0, 2.5, 25.0, 180.0, 45.0, 5.0, 3.2),
)
Main = tuple[float, float, float]


def dish(
    first: Main = (54.0, 12.0, 225.0),
    second: Main = (40.5, 45.0, 225.0),
    third: Main = (30.4, 68.0, 135.0),
    *,
    form: str = "upright",
    rule: str = "width-plus-height",
    at: tuple[float, float] = (-5.0, -4.0),
    feet: Sequence[tuple[float, float]] = ((0.0, 0.5), (-1.2, -0.6), (1.2, -0.8)),
    clump: Sequence[Leaf] = CLUMP,
    made: Piece | None = None,
) -> tuple[Piece, dict[str, Material]]:
    """A 30 × 6 dish with a 7 cm pin holder; (length, lean, direction) of the main stems."""
    start = made or piece(DISH, RULES[rule], form, held=holder(7.0))
    bare = replace(start, place=replace(start.place, x_cm=at[0], y_cm=at[1]), stems=start.main)
    z = bare.vessel.base_cm + 1.5
    stems = [
        replace(
            set_stem(bare, stem, *numbers, Point(at[0] + foot[0], at[1] + foot[1], z)), bow_cm=0.0
        )
        for stem, numbers, foot in zip(bare.main, (first, second, third), feet, strict=True)
    ]
    known = {"first": BRANCH, "second": BRANCH, "third": replace(BRANCH, foliage_cm=0.8)}
    bare = replace(bare, stems=tuple(stems))
    for number, leaf in enumerate(clump, start=1):
        bare = with_leaf(bare, known, f"leaf-{number}", leaf)
    return bare, known


def with_leaf(bare: Piece, known: dict[str, Material], leaf_id: str, leaf: Leaf) -> Piece:
    x, y, stalk, lean, direction, droop, half_long, half_wide = leaf
    model = replace(bare.stem("third"), id=leaf_id, role="leaf", label=None, leader="third")
    start = Point(bare.place.x_cm + x, bare.place.y_cm + y, bare.vessel.base_cm + 1.5)
    made = set_stem(bare, model, stalk + 2 * half_long, lean, direction, start)
    known[leaf_id] = Material(
        "leaf",
        "leaf",
        blade_cm=2 * half_long,
        blade_width_cm=2 * half_wide,
        droop_deg=droop,
    )
    return replace(bare, stems=(*bare.stems, made))


def with_stem(
    bare: tuple[Piece, dict[str, Material]],
    stem_id: str,
    leader: str,
    numbers: Main,
    foot: tuple[float, float],
    material: Material = BRANCH,
    bow_cm: float = 0.0,
) -> tuple[Piece, dict[str, Material]]:
    """One more stem: (length, lean, direction), its foot from the pin holder's middle."""
    made, known = bare
    role = "heart" if stem_id.startswith("heart") else "helper"
    model = replace(made.stem(leader), id=stem_id, role=role, label=None, leader=leader)
    start = Point(made.place.x_cm + foot[0], made.place.y_cm + foot[1], made.vessel.base_cm + 1.5)
    stem = replace(set_stem(made, model, *numbers, start), bow_cm=bow_cm)
    return replace(made, stems=(*made.stems, stem)), {**known, stem_id: material}


def looked_at(
    made: Piece,
    known: Mapping[str, Material] | None = None,
    *,
    allow: frozenset[str] = frozenset(),
    also: frozenset[str] = frozenset(),
) -> tuple[Finding, ...]:
    """Everything found in a piece."""
    return findings(setting(made, known, allow=allow), also)


@st.composite
def arranged(draw: st.DrawFn) -> tuple[Piece, dict[str, Material]]:
    """A piece as a beginner may set it: main stems near their aims, helpers anywhere."""
    made = dish(
        (54.0, draw(st.floats(5, 30)), draw(st.floats(190, 260))),
        (draw(st.floats(30, 45)), draw(st.floats(30, 60)), draw(st.floats(180, 300))),
        (draw(st.floats(20, 32)), draw(st.floats(50, 75)), draw(st.floats(90, 180))),
    )
    lean = st.floats(5, 80)
    for number in range(draw(st.integers(0, 3))):
        foot = (draw(st.floats(-2, 2)), draw(st.floats(-2, 2)))
        numbers = (draw(st.floats(12, 45)), draw(lean), draw(st.floats(0, 359)))
        leader = draw(st.sampled_from(["first", "second", "third"]))
        material = (BRANCH, TULIP)[number % 2]
        made = with_stem(made, f"sub-{number + 1}", leader, numbers, foot, material)
    numbers = (draw(st.floats(10, 20)), draw(lean), draw(st.floats(120, 240)))
    return with_stem(made, "heart-1", "third", numbers, (0.5, -1.2), HEART)

"""The same piece in a mirror, from behind and at another size has the same faults.

Source: none is needed; these are properties of what is measured. What a viewer sees is of one side
only and is left out of the half turn; the rounded edge of a pin holder does not grow with it, so
for the scale it is made to.
"""

from __future__ import annotations

from dataclasses import replace
from unittest.mock import patch

import numpy as np
import pytest
from composing.making import arranged
from hypothesis import given, settings
from hypothesis import strategies as st

from nejime.basis.angles import Point
from nejime.composing import alone, between, whole
from nejime.composing.checks import PAIRS, SINGLES, findings
from nejime.composing.seeing import Seat
from nejime.composing.setting import setting
from nejime.forms.stems import Piece

SEEN = {"stares", "stabs"}  # from the seat only
LENGTHS = (
    *("width_cm", "depth_cm", "height_cm", "corner_radius_cm", "wall_cm", "base_cm"),
    *("floor_width_cm", "floor_depth_cm", "foot_width_cm", "foot_depth_cm"),
)
EDGE = 1e-7  # so near a limit the last digit decides


def carried(made: Piece, x: float, y: float, turn, size: float = 1.0) -> Piece:
    """Every point's x, y and all lengths times a number, directions through `turn`."""

    def point(at: Point) -> Point:
        return Point(at.x_cm * x * size, at.y_cm * y * size, at.z_cm * size)

    stems = tuple(
        replace(
            stem,
            start=point(stem.start),
            foot=point(stem.foot),
            bearing_deg=turn(stem.bearing_deg) % 360.0,
            length_cm=stem.length_cm * size,
            bow_cm=stem.bow_cm * size,
            water_z_cm=stem.water_z_cm * size,
        )
        for stem in made.stems
    )
    place = replace(made.place, x_cm=made.place.x_cm * x * size, y_cm=made.place.y_cm * y * size)
    return replace(made, stems=stems, place=place)


def mirrored(made: Piece) -> Piece:
    opens = "left" if made.opens == "right" else "right"
    return replace(carried(made, -1, 1, lambda bearing: -bearing), opens=opens)


def grown(made, size: float):
    """Everything larger: vessel, pin holder, material; masses with the third power."""
    bowl, held = made[0].vessel, made[0].holder
    lengths = {name: getattr(bowl, name) * size for name in LENGTHS}
    whole_piece = replace(
        carried(made[0], 1, 1, lambda bearing: bearing, size),
        vessel=replace(bowl, **lengths),
        water_cm=made[0].water_cm * size,
        holder=replace(
            held,
            width_cm=held.width_cm * size,
            depth_cm=held.depth_cm * size,
            height_cm=held.height_cm * size,
        ),
    )
    known = {
        stem: replace(
            each,
            thickness_mm=each.thickness_mm * size,
            head_cm=each.head_cm * size,
            foliage_cm=each.foliage_cm * size,
            blade_cm=each.blade_cm * size,
            blade_width_cm=each.blade_width_cm * size,
        )
        for stem, each in made[1].items()
    }
    near, far = Seat().distances_cm
    seat = Seat(Seat().distance_cm * size, distances_cm=(near * size, far * size))
    return setting(whole_piece, known, seat=seat)


def of_shape(here) -> dict[str, object]:
    """What does not depend on the side from which one looks."""
    bundles = tuple(here.stems.take(at) for at in here.pairs)
    found = {code: measure(here, *bundles) for code, measure in PAIRS.items()}
    found |= {
        code: measure(here, here.stems) for code, measure in SINGLES.items() if code not in SEEN
    }
    found["leaf-in-water"] = alone.blade_in_water(here, here.blades)
    for measure in (whole.triangle, whole.spread, whole.flatness, whole.balance, whole.size):
        found[measure.__name__] = np.array(measure(here))
    return found


def of_view(here) -> dict[str, object]:
    """What is seen from the seat, and how deep the piece is."""
    found = {code: SINGLES[code](here, here.stems) for code in SEEN}
    found["depth"] = np.array(whole.depth(here))
    found["pins"] = np.array(whole.pins_hidden(here))
    found["water"] = np.array(whole.open_water(here))
    heads = here.stems.take(np.flatnonzero(here.stems.head_cm >= between.HEAD * here.main_cm))
    found["leaf-hides"] = alone.behind_leaf(here, heads, here.blades)
    return found


def assert_alike(one: dict[str, object], other: dict[str, object]) -> None:
    assert one.keys() == other.keys()
    for name, value in one.items():
        assert other[name] == pytest.approx(value, rel=1e-6, abs=1e-6), name


@given(arranged())
@settings(max_examples=40)
def test_a_mirror_changes_no_finding(made):
    here, there = setting(*made), setting(mirrored(made[0]), made[1])
    before, after = ({each.key: each for each in findings(at)} for at in (here, there))
    for key in before.keys() ^ after.keys():
        assert (before.get(key) or after.get(key)).excess < EDGE, key
    for key in before.keys() & after.keys():
        assert after[key].excess == pytest.approx(before[key].excess, rel=1e-6, abs=1e-6), key


@given(arranged())
@settings(max_examples=40)
def test_a_half_turn_changes_no_measure_of_shape(made):
    turned = carried(made[0], -1, -1, lambda bearing: bearing + 180.0)
    assert_alike(of_shape(setting(*made)), of_shape(setting(turned, made[1])))


@given(arranged(), st.sampled_from([0.5, 2.0]))
@settings(max_examples=40)
def test_size_changes_no_measure(made, size):
    here, there = setting(*made), grown(made, size)
    assert_alike(of_shape(here), of_shape(there))
    assert_alike(of_view(here), of_view(there))


@given(arranged(), st.sampled_from([0.5, 2.0]))
@settings(max_examples=20)
def test_tipping_is_the_same_where_masses_grow_with_the_third_power(made, size):
    here, there = setting(*made), grown(made, size)
    held = there.piece.holder
    heavy = replace(held, mass=replace(here.piece.holder.mass, g=held.mass.g * size**3))
    there = replace(there, piece=replace(there.piece, holder=heavy))
    heads = np.array([each.head_g for each in here.made_of])
    factor = whole.tips(here, whole.load(here, here.stems, heads))
    with patch.object(whole, "EDGE_CM", whole.EDGE_CM * size):
        again = whole.tips(there, whole.load(there, there.stems, heads * size**3))
    # Nothing tips it where its weight is over the plate: one over infinity.
    assert 1 / float(again) == pytest.approx(1 / float(factor), rel=1e-6, abs=1e-3)

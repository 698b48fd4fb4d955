"""What must not matter to the measuring, and what must turn with the question."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest
from photo.simulated import Scene, Setting, scenes

from nejime.photo.answer import Interval, Line, Measured
from nejime.photo.asked import Asked, Known, Marker, Pins, Pixel, StemMarks, View
from nejime.photo.measuring import measure

TWO = Setting(noise_px=1.0)
ONE = Setting(views=1, noise_px=1.0, lengths=True, plan=True)
SETTINGS = {
    "two of a dish": TWO,
    "two of a rectangle": replace(TWO, vessels=("rectangle",)),
    "two of a vase": replace(TWO, vessels=("vase",)),
    "two with a card": replace(TWO, card=True, focal="unknown"),
    "one of a dish": ONE,
    "one of a rectangle": replace(ONE, vessels=("rectangle",)),
}
DRAWN = 0.12  # of half an interval: what other draws behind it move a value by, at most
every_setting = pytest.mark.parametrize("setting", SETTINGS.values(), ids=SETTINGS.keys())


def drawn(setting: Setting, count: int = 1) -> list[Scene]:
    return list(scenes(setting, count, seed=11))


def moved(view: View, move: Callable[[Pixel], Pixel]) -> View:
    """A view with every mark in another place."""
    return replace(
        view,
        rim=tuple(move(each) for each in view.rim),
        stems=tuple(
            StemMarks(
                each.id,
                move(each.tip),
                each.base and move(each.base),
                each.mid and move(each.mid),
            )
            for each in view.stems
        ),
        card=tuple(
            Marker(each.id, tuple(move(corner) for corner in each.corners))  # type: ignore[arg-type]
            for each in view.card
        ),
    )


def lines(found: Measured) -> dict[str, Line]:
    return {each.id: each.line for each in found.stems if each.line is not None}


def same(one: Interval, other: Interval, true: float, turn: float = math.inf) -> None:
    """The second is what the first should have become, up to the draws behind an interval."""
    slack = DRAWN * max(one.half, other.half) + 0.02
    step = other.value - true
    step = math.remainder(step, turn) if turn < math.inf else step
    assert abs(step) <= slack
    assert other.half == pytest.approx(one.half, rel=0.25, abs=0.05)


def compare(
    before: Measured, after: Measured, *, turn: float = 0.0, mirror: int = 1, times: float = 1.0
) -> None:
    """Every stem stands as before, turned, mirrored or larger."""
    told, now = lines(before), lines(after)
    assert set(told) == set(now)
    assert told
    for stem_id, line in told.items():
        other = now[stem_id]
        same(line.tilt_deg, other.tilt_deg, line.tilt_deg.value)
        same(line.bearing_deg, other.bearing_deg, mirror * line.bearing_deg.value + turn, 360.0)
        grown = Interval(*(times * each for each in (line.length_cm.value, line.length_cm.low,
                                                     line.length_cm.high)))  # fmt: skip
        same(grown, other.length_cm, grown.value)


@every_setting
def test_stems_may_be_marked_in_any_order(setting: Setting) -> None:
    for scene in drawn(setting):
        asked = scene.asked
        views = tuple(replace(view, stems=view.stems[::-1]) for view in asked.views)
        compare(measure(asked), measure(replace(asked, views=views)))


@every_setting
def test_a_picture_of_half_the_size_says_the_same(setting: Setting) -> None:
    """Pixel centres are whole numbers: the corner of the picture is at -0.5, -0.5."""
    for scene in drawn(setting):
        views = tuple(
            replace(
                moved(view, lambda at: ((at[0] + 0.5) / 2 - 0.5, (at[1] + 0.5) / 2 - 0.5)),
                width_px=view.width_px // 2,
                height_px=view.height_px // 2,
            )
            for view in scene.asked.views
        )
        if scene.asked.views[0].card:  # how well markers are found is told in pixels
            continue
        compare(measure(scene.asked), measure(replace(scene.asked, views=views)))


@pytest.mark.parametrize("name", ["two of a dish", "two of a vase", "one of a dish"])
def test_points_of_a_round_rim_may_be_marked_in_any_order(name: str) -> None:
    for scene in drawn(SETTINGS[name]):
        chance = np.random.default_rng(3)
        views = tuple(
            replace(view, rim=tuple(view.rim[at] for at in chance.permutation(len(view.rim))))
            for view in scene.asked.views
        )
        compare(measure(scene.asked), measure(replace(scene.asked, views=views)))


@pytest.mark.parametrize("name", ["two of a rectangle", "one of a rectangle"])
def test_corners_may_begin_anywhere_and_go_round_either_way(name: str) -> None:
    for scene in drawn(SETTINGS[name]):
        for start, way in ((1, 1), (2, -1), (3, 1)):
            views = tuple(
                replace(view, rim=tuple(view.rim[(start + way * step) % 4] for step in range(4)))
                for view in scene.asked.views
            )
            compare(measure(scene.asked), measure(replace(scene.asked, views=views)))


@every_setting
def test_the_mirrored_picture_is_of_the_mirrored_piece(setting: Setting) -> None:
    for scene in drawn(setting):
        asked = scene.asked
        if asked.views[0].card:  # a mirrored card is none
            continue
        views = tuple(
            moved(view, lambda at, wide=view.width_px: (wide - 1 - at[0], at[1]))
            for view in asked.views
        )
        pins = replace(asked.pins, x_cm=None if asked.pins.x_cm is None else -asked.pins.x_cm)
        known = tuple((stem_id, _mirrored(each)) for stem_id, each in asked.known)
        other = measure(replace(asked, views=views, pins=pins, known=known))
        compare(measure(asked), other, mirror=-1)


def _mirrored(known: Known) -> Known:
    aim = known.aim_bearing_deg
    return replace(known, aim_bearing_deg=None if aim is None else (360.0 - aim) % 360.0)


@pytest.mark.parametrize("name", ["two of a dish", "two of a rectangle", "two of a vase"])
def test_a_piece_twice_as_large_looks_the_same(name: str) -> None:
    """Without what is known in centimetres beforehand, such as how high pins usually are."""
    for scene in drawn(SETTINGS[name]):
        rim, pins = scene.asked.rim, scene.asked.pins
        bare = replace(scene.asked, pins=Pins(pins.x_cm, pins.y_cm, pins.height_cm, 3.0))
        larger = Pins(*(2 * each for each in (bare.pins.x_cm, bare.pins.y_cm, bare.pins.height_cm)),
                      6.0)  # fmt: skip
        grown = replace(
            rim,
            width_cm=2 * rim.width_cm,
            depth_cm=2 * rim.depth_cm,
            height_cm=2 * rim.height_cm,
        )
        told, now = lines(measure(bare)), lines(measure(replace(bare, rim=grown, pins=larger)))
        for stem_id, line in told.items():
            other = now[stem_id]
            assert other.tilt_deg.value == pytest.approx(line.tilt_deg.value, abs=1.0)
            assert other.length_cm.value == pytest.approx(2 * line.length_cm.value, rel=0.02)


@pytest.mark.parametrize("name", ["two of a dish", "two of a vase"])
def test_the_other_picture_first_turns_the_whole_round_piece(name: str) -> None:
    """A circle has no front: directions are counted from whoever took the first picture."""
    for scene in drawn(SETTINGS[name]):
        asked = replace(scene.asked, pins=replace(scene.asked.pins, x_cm=None, y_cm=None))
        before = measure(asked)
        after = measure(replace(asked, views=asked.views[::-1]))
        told, now = lines(before), lines(after)
        x, y, _ = before.cameras[1].centre_cm
        turn = 180.0 - math.degrees(math.atan2(x, y))
        for stem_id, line in told.items():
            other = now[stem_id]
            off = other.bearing_deg.value - line.bearing_deg.value - turn
            assert abs(math.remainder(off, 360.0)) <= 1.0 + 0.5 * line.bearing_deg.half
            assert other.tilt_deg.value == pytest.approx(line.tilt_deg.value, abs=0.5)
            assert other.length_cm.value == pytest.approx(line.length_cm.value, abs=0.4)


def test_the_first_camera_of_a_round_vessel_is_in_front() -> None:
    for scene in drawn(TWO):
        x, y, _ = measure(scene.asked).cameras[0].centre_cm
        assert abs(x) < 1e-6 * abs(y)
        assert y < 0


def test_equal_questions_have_equal_answers() -> None:
    (scene,) = drawn(ONE)
    assert measure(scene.asked) == measure(scene.asked)


def test_a_stem_in_one_of_two_pictures_is_measured_by_its_length() -> None:
    for scene in drawn(replace(TWO, lengths=True, plan=True), 2):
        front, side = scene.asked.views
        asked: Asked = replace(scene.asked, views=(front, replace(side, stems=side.stems[1:])))
        found = measure(asked)
        assert found.stems[0].picture_lean_deg[1] is None
        line = lines(found).get("stem 0")
        if line is not None:
            assert line.length_cm.value == pytest.approx(scene.truths[0].length_cm, abs=2.0)
        for truth in scene.truths[1:]:
            told = lines(found)[truth.id]
            assert told.tilt_deg.value == pytest.approx(truth.tilt_deg, abs=3.0)


def test_one_picture_without_a_length_tells_the_lean_in_it_alone() -> None:
    for scene in drawn(replace(ONE, lengths=False), 3):
        for truth, stem in zip(scene.truths, measure(scene.asked).stems, strict=True):
            assert (stem.status, stem.line, stem.other) == ("lean only", None, None)
            (lean,) = stem.picture_lean_deg
            assert lean is not None
            assert math.remainder(lean.value - truth.leans_deg[0], 360.0) == pytest.approx(0, abs=2)


def test_one_picture_without_a_plan_tells_both_answers() -> None:
    """A stem square to the line of sight has one; every other has two, one of them true."""
    both = 0
    for scene in scenes(replace(ONE, plan=False), 10, seed=4):
        for truth, stem in zip(scene.truths, measure(scene.asked).stems, strict=True):
            if stem.status != "two answers":
                continue
            both += 1
            assert stem.line is not None
            assert stem.other is not None
            nearer = min(
                abs(each.tilt_deg.value - truth.tilt_deg) - 1.5 * each.tilt_deg.half
                for each in (stem.line, stem.other)
            )
            assert nearer <= 1.0
    assert both >= 8


def test_two_pictures_from_the_same_place_do_not_pretend_to_know_depth() -> None:
    for scene in drawn(replace(ONE, lengths=False, noise_px=3.0), 3):
        (view,) = scene.asked.views
        found = measure(replace(scene.asked, views=(view, view)))
        for truth, stem in zip(scene.truths, found.stems, strict=True):
            if stem.line is not None:
                low, high = stem.line.tilt_deg.low, stem.line.tilt_deg.high
                assert low - 3.0 <= truth.tilt_deg <= high + 3.0
        assert "photo.same-place" in {each.key for each in found.remarks}


@pytest.mark.parametrize("bow", [0.0, 0.03, 0.08])
def test_a_bow_is_measured_by_a_third_mark(bow: float) -> None:
    """The middle of a parabola is a bow's length away from the middle of its straight line."""
    off = []
    for scene in scenes(replace(TWO, bow=bow or 1e-6, leans_deg=(25.0, 70.0)), 4, seed=8):
        found = measure(scene.asked)
        off += [each.bow.value - bow for each in found.stems if each.bow is not None]
    assert len(off) >= 8
    assert abs(float(np.median(off))) <= 0.012


def test_an_end_that_would_lie_under_the_table_is_not_measurable() -> None:
    """Marked far below the vessel, on a line of sight that a short stem meets under the table."""
    (scene,) = drawn(ONE)
    (view,) = scene.asked.views
    low = (view.width_px / 2.0, view.height_px * 1.45)
    stems = tuple(replace(each, tip=low) for each in view.stems)
    known = tuple((stem_id, Known(cut_length_cm=30.0)) for stem_id, _ in scene.asked.known)
    found = measure(replace(scene.asked, views=(replace(view, stems=stems),), known=known))
    assert {(each.status, each.line) for each in found.stems} == {("not measurable", None)}


@pytest.mark.parametrize("length_cm", [None, 30.0])
def test_two_pictures_that_share_no_stem_say_what_each_says_alone(length_cm: float | None) -> None:
    """Of a round vessel nothing then tells from which side the second was taken."""
    for scene in drawn(replace(TWO, noise_px=3.0), 6):
        (one, *_), (_, other, _) = (view.stems for view in scene.asked.views)
        first, second = scene.asked.views
        views = (replace(first, stems=(one,)), replace(second, stems=(other,)))
        known = ((other.id, Known(length_cm)),)
        found = measure(replace(scene.asked, views=views, known=known))
        lean = found.stem(other.id).picture_lean_deg[1]
        truth = next(each for each in scene.truths if each.id == other.id)
        assert lean is not None
        assert abs(math.remainder(lean.value - truth.leans_deg[1], 360.0)) < 1.5 * lean.half + 0.3
        assert lean.half < 12.0
        assert found.stem(other.id).line is None
        assert [each.key for each in found.remarks] == ["photo.second-place"]

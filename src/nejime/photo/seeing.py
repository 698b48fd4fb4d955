"""From what was asked to the least-squares problem and the unknowns to begin it from.

Model: pixels are counted from the picture's middle; what is known beforehand (`beforehand`) becomes
spreads; the cameras that the rim alone gives (`start`) are where the fit begins.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from nejime.photo import beforehand, start
from nejime.photo.asked import Asked, Pixel, StemMarks, View
from nejime.photo.camera import Floats, focal_px, middle_px
from nejime.photo.card import corner_points_cm
from nejime.photo.problem import Problem, Seen
from nejime.photo.sight import nearest_equations, on_level
from nejime.photo.start import Placed

NOWHERE = (np.nan, np.nan)


def seen(view: View, ids: tuple[str, ...]) -> Seen:
    """A view in numbers, its camera not yet placed."""
    middle = middle_px(view.width_px, view.height_px)
    known = {stem.id: stem for stem in view.stems}
    marked = [known.get(each) or StemMarks(each, NOWHERE) for each in ids]
    click = beforehand.click_px(view)
    told = view.focal_35mm is not None
    focal = view.focal_35mm or beforehand.UNKNOWN_FOCAL_35MM
    corners = [corner for marker in view.card for corner in marker.corners]
    own = [point for marker in view.card for point in corner_points_cm(marker.id)]
    return Seen(
        rotation=np.eye(3),
        focal_px=focal_px(focal, view.width_px, view.height_px),
        focal_spread=beforehand.FOCAL_SPREAD if told else beforehand.UNKNOWN_FOCAL_SPREAD,
        rim=_pixels(view.rim) - middle,
        card=_pixels(corners) - middle,
        card_cm=_pixels(own),
        base=_pixels([each.base or NOWHERE for each in marked]) - middle,
        tip=_pixels([each.tip for each in marked]) - middle,
        mid=_pixels([each.mid or NOWHERE for each in marked]) - middle,
        click_px=click,
        feet_px=beforehand.FEET_TIMES * click,
        card_px=beforehand.card_px(view),
    )


def _pixels(points: tuple[Pixel, ...] | list[Pixel]) -> Floats:
    return np.asarray(points, float).reshape(-1, 2)


@dataclass(frozen=True, slots=True)
class Setting:
    """What was asked, in numbers: its stems, its views, which stems two views show.

    `feet` and `feet_spread` (3,): where a foot is beforehand. `starts`: problems and unknowns to
    begin from, likeliest first.
    """

    ids: tuple[str, ...]
    views: tuple[Seen, ...]
    shared: tuple[int, ...]
    feet: Floats
    feet_spread: Floats
    starts: tuple[tuple[Problem, Floats], ...]


def setting(asked: Asked) -> Setting:
    """What was asked, ready to be fitted.

    Raises `InputError` at `rim` or `corners` where marks are no picture of the rim.
    """
    ids = tuple(dict.fromkeys(stem.id for view in asked.views for stem in view.stems))
    views = [seen(view, ids) for view in asked.views]
    corners = np.zeros((4, 2))
    if asked.rim.shape == "rectangle":
        views, cameras, corners = _before_rectangle(asked, views)
    else:
        cameras = [start.round_camera(view, asked.rim) for view in views]
    middle, spread = beforehand.feet(asked)
    feet = (np.tile(middle, (len(ids), 1)), np.tile(spread, (len(ids), 1)))
    shared = _shared(views)
    lengths = [asked.known_of(each).cut_length_cm for each in ids]
    known_cm = np.array([np.nan if each is None else each for each in lengths], float)
    bare = Problem(
        rim=asked.rim,
        views=tuple(replace(view, base=view.base[shared], tip=view.tip[shared]) for view in views),
        feet=feet[0][shared],
        feet_spread=feet[1][shared],
        length=known_cm[shared],
        length_spread=beforehand.LENGTH_SPREAD_CM,
        k1_spread=beforehand.K1_SPREAD,
        rim_spread=beforehand.RIM_SPREAD,
        height_spread_cm=beforehand.HEIGHT_SPREAD_CM,
        corners=corners,
    )
    stands = _stands(asked, views, cameras, *feet)
    return Setting(
        ids=ids,
        views=tuple(views),
        shared=tuple(int(each) for each in shared),
        feet=middle,
        feet_spread=spread,
        starts=tuple(_start(bare, each) for each in stands),
    )


def _before_rectangle(
    asked: Asked, views: list[Seen]
) -> tuple[list[Seen], list[tuple[Placed, ...]], Floats]:
    """The views with their corners the same way round, their cameras, and the corners in cm."""
    views = [replace(view, rim=start.same_way_round(view.rim)) for view in views]
    first, number = start.rectangle_camera(views[0], asked.rim, (0, 1, 2, 3))
    later = [start.rectangle_camera(view, asked.rim, (number,))[0] for view in views[1:]]
    corners = np.roll(start.rectangle_corners(asked.rim), -number, axis=0)
    return views, [(first,), *((each,) for each in later)], corners


def _shared(views: list[Seen]) -> npt.NDArray[np.intp]:
    """The stems whose ends at least two views show."""
    shown = np.sum([np.isfinite(view.tip[:, 0]) for view in views], axis=0)
    return np.flatnonzero(shown >= 2)


def _stands(
    asked: Asked,
    views: list[Seen],
    cameras: list[tuple[Placed, ...]],
    feet: Floats,
    feet_spread: Floats,
) -> list[list[Placed]]:
    """Where the cameras may have stood, likeliest first."""
    first = cameras[0][0]
    if asked.rim.shape == "rectangle" or len(views) == 1:
        return [[each[0] for each in cameras]]
    stands: list[list[Placed]] = [[first]]
    for view, found in zip(views[1:], cameras[1:], strict=True):
        if len(view.card) and len(views[0].card):
            here, there = start.card_place(views[0], first), start.card_place(view, found[0])
            stands = [[*each, found[0].turned(here[2] - there[2])] for each in stands]
            continue
        if not _shares_ends(view, views):
            stands = [[*each, found[0]] for each in stands]  # its turn is not known
            continue
        turns = sorted(
            (cost, number, angle)
            for number, placed in enumerate(found)
            for cost, angle in start.turns_of_second(
                (views[0], first), (view, placed), feet, feet_spread
            )
        )[: start.TRIED]
        stands = [
            [*each, found[number].turned(angle)] for _, number, angle in turns for each in stands
        ][: start.TRIED]
    return stands


def _shares_ends(view: Seen, views: list[Seen]) -> bool:
    """Whether another view shows the end of a stem that this one shows."""
    others = (other for other in views if other is not view)
    return any(bool(np.any(np.isfinite(view.tip + other.tip))) for other in others)


def _start(bare: Problem, stand: list[Placed]) -> tuple[Problem, Floats]:
    """The problem with its cameras placed, and the unknowns to begin from."""
    views = tuple(
        replace(view, rotation=placed.rotation)
        for view, placed in zip(bare.views, stand, strict=True)
    )
    problem = replace(bare, views=views)
    stems = [
        (_foot(problem, views, stand, stem), _end(views, stand, stem))
        for stem in range(problem.stems)
    ]
    return problem, problem.folded(
        np.array([placed.centre for placed in stand]), _card(views, stand), np.array(stems)
    )


def _card(views: tuple[Seen, ...], stand: list[Placed]) -> Floats:
    """Where the card lies, from the view that shows most of it; empty where none does."""
    most, placed = max(zip(views, stand, strict=True), key=lambda one: len(one[0].card))
    return start.card_place(most, placed) if len(most.card) else np.zeros(0)


def _foot(problem: Problem, views: tuple[Seen, ...], stand: list[Placed], stem: int) -> Floats:
    """Where a foot's marks meet the pins' height; where none was marked, where it is beforehand."""
    height = problem.feet[stem, 2:]
    found = [
        on_level(placed.rays(view.base[stem : stem + 1], view.focal_px), height)[0]
        for view, placed in zip(views, stand, strict=True)
        if np.isfinite(view.base[stem, 0])
    ]
    middle: Floats = np.mean(found, axis=0) if found else problem.feet[stem]
    return middle


def _end(views: tuple[Seen, ...], stand: list[Placed], stem: int) -> Floats:
    """Where an end's lines of sight pass one another; parallel ones leave its depth open."""
    shown = [
        placed.rays(view.tip[stem : stem + 1], view.focal_px)
        for view, placed in zip(views, stand, strict=True)
        if np.isfinite(view.tip[stem, 0])
    ]
    whole, told = nearest_equations(shown)
    end: Floats = np.linalg.lstsq(whole[0], told[0], rcond=None)[0]
    return end

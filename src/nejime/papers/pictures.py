"""Which drawings go on which paper, and how large.

A drawing is made for the place that it gets, in millimetres, with lettering in points as it will
be printed; it describes itself for those who cannot see it.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from html import unescape

from nejime.basis.sayings import Words
from nejime.drawings.elevation import elevation
from nejime.drawings.icons import vessel_icon
from nejime.drawings.measuring import how_to_measure
from nejime.drawings.plan import plan
from nejime.drawings.room_plan import room_plan
from nejime.drawings.scene import Look, scene
from nejime.drawings.steps import steps
from nejime.forms.stems import Piece
from nejime.forms.vessel import Shape, Vessel
from nejime.lesson.room import RoomPlan
from nejime.papers.sheet import MARGIN_MM, SIZE_MM, Drawing, Stock

Looks = Mapping[str, Look]

NORMAL_LETTERING_PT = 10.0  # [own] with a little to lose where a drawing must shrink
LARGE_LETTERING_PT = 18.0  # [own] as the text
FRONT_SHARE = 0.6  # [own] of the width, where front and plan stand side by side
VIEWS_HEIGHT_MM = {"A4": 94.0, "Letter": 78.0}  # [own] what the front of a handout leaves
LARGE_VIEWS_MM = {"A4": (132.0, 88.0), "Letter": (118.0, 80.0)}  # [own] one above the other


ICON_MM = (40.0, 22.0)  # [own]
LARGE_ICON_MM = (66.0, 40.0)  # [own]
STEP_MM = {"A4": (54.0, 46.0), "Letter": (56.0, 42.0)}  # [own] two rows leave room to write
LARGE_STEP_MM = {"A4": (54.0, 62.0), "Letter": (56.0, 56.0)}  # [own] three in a row
STEP_LETTERING_PT = 9.0  # [own] a step says one or two numbers
LARGE_STEP_LETTERING_PT = 14.0  # [own] what fits; the same numbers stand in the table in full size

MEASURED: tuple[Shape, ...] = ("bowl", "rectangle", "vase")
MEASURED_MM = 74.0  # [own] height of the drawings on the invitation
MEASURING_SHARE = 0.85  # [own] of the page's width, where one is alone
BESIDE_MM = 4.0  # [own] between them
ROOM_SHARE = 0.44  # [own] of the height of the page
SEAT_MM = (46.0, 34.0)  # [own] a piece on the teacher's sheet


def drawn(svg: str) -> Drawing:
    """A drawing with the size and the description that are written in it."""
    size = re.search(r'width="([\d.]+)mm" height="([\d.]+)mm"', svg)
    says = re.search(r"<title>(.*?)</title>\s*<desc>(.*?)</desc>", svg, re.DOTALL)
    assert size is not None
    assert says is not None
    alt = " ".join(unescape(part) for part in says.groups())
    return Drawing(svg, alt, float(size[1]), float(size[2]))


def lettering_pt(stock: Stock) -> float:
    """Size of the words on drawings."""
    return LARGE_LETTERING_PT if stock.large else NORMAL_LETTERING_PT


def inner_width_mm(stock: Stock) -> float:
    """Width of a page between its margins."""
    return SIZE_MM[stock.paper][0] - 2 * MARGIN_MM


def of_handout(piece: Piece, looks: Looks | None, words: Words, stock: Stock) -> dict[str, Drawing]:
    """The vessel, the piece from the front and from above, and one drawing a step."""
    shown = scene(piece, looks)
    wide, text_pt = inner_width_mm(stock), lettering_pt(stock)
    if stock.large:
        (front_mm, plan_mm), (front_wide, plan_wide) = LARGE_VIEWS_MM[stock.paper], (wide, wide)
    else:
        front_mm = plan_mm = VIEWS_HEIGHT_MM[stock.paper]
        front_wide, plan_wide = FRONT_SHARE * wide, (1 - FRONT_SHARE) * wide - 3.0
    front = elevation(
        shown, "front", words, width_mm=front_wide, height_mm=front_mm, text_pt=text_pt
    )
    above = plan(shown, words, width_mm=plan_wide, height_mm=plan_mm, text_pt=text_pt)
    return {
        "icon": of_vessel(piece.vessel, words, stock),
        "front": drawn(front),
        "plan": drawn(above),
        **of_steps(piece, looks, words, stock),
    }


def of_vessel(vessel: Vessel, words: Words, stock: Stock) -> Drawing:
    """A vessel with its numbers."""
    wide, high = LARGE_ICON_MM if stock.large else ICON_MM
    return drawn(
        vessel_icon(vessel, words, width_mm=wide, height_mm=high, text_pt=lettering_pt(stock))
    )


def of_steps(piece: Piece, looks: Looks | None, words: Words, stock: Stock) -> dict[str, Drawing]:
    """One drawing a step, by `step-` and the step's id."""
    wide, high = (LARGE_STEP_MM if stock.large else STEP_MM)[stock.paper]
    made = steps(
        piece,
        looks,
        words,
        width_mm=wide,
        height_mm=high,
        text_pt=LARGE_STEP_LETTERING_PT if stock.large else STEP_LETTERING_PT,
    )
    found = {f"step-{step.id}": drawn(step.svg) for step in made}
    found["step-look"] = drawn(
        elevation(
            scene(piece, looks),
            "right",
            words,
            width_mm=wide,
            height_mm=high,
            text_pt=lettering_pt(stock),
            shows=frozenset(),
        )
    )
    if piece.vessel.tall:
        found = {"step-holder": of_vessel(piece.vessel, words, stock), **found}
    return found


def of_bring(words: Words, stock: Stock) -> dict[str, Drawing]:
    """How a bowl is measured: a bowl, an oblong dish, a tall vase."""
    if stock.large:
        return {"measuring": of_measuring("rectangle", words, stock)}
    wide = (inner_width_mm(stock) - 2 * BESIDE_MM) / len(MEASURED)
    return {
        f"measuring-{shape}": drawn(
            how_to_measure(
                shape, words, width_mm=wide, height_mm=MEASURED_MM, text_pt=lettering_pt(stock)
            )
        )
        for shape in MEASURED
    }


def of_measuring(shape: Shape, words: Words, stock: Stock) -> Drawing:
    """How a vessel of this shape is measured."""
    wide = MEASURING_SHARE * inner_width_mm(stock)
    return drawn(
        how_to_measure(
            shape, words, width_mm=wide, height_mm=MEASURED_MM, text_pt=lettering_pt(stock)
        )
    )


def of_room(room: RoomPlan, words: Words, stock: Stock) -> Drawing:
    """The room from above."""
    wide = inner_width_mm(stock)
    high = ROOM_SHARE * SIZE_MM[stock.paper][1]
    return drawn(room_plan(room, words, width_mm=wide, height_mm=high, text_pt=lettering_pt(stock)))


def of_seat(piece: Piece, looks: Looks | None, words: Words, stock: Stock) -> Drawing:
    """A piece from the teacher's side, small, without words."""
    return drawn(
        elevation(
            scene(piece, looks),
            "teacher",
            words,
            width_mm=SEAT_MM[0],
            height_mm=SEAT_MM[1],
            text_pt=lettering_pt(stock),
            shows=frozenset(),
        )
    )

"""A piece of the arranging table on paper: its handout, and its drawings with numbers."""

from __future__ import annotations

import datetime as dt

from nejime.basis.sayings import Words
from nejime.desk.arrange import Table, on_table
from nejime.desk.settings import stock_for, words_for
from nejime.desk.shelf import Shelf
from nejime.drawings.elevation import elevation
from nejime.drawings.plan import plan
from nejime.keeping.hazards import plant_cautions
from nejime.papers.cautions import of
from nejime.papers.handout import Told, handout
from nejime.papers.pdf import print_sheets
from nejime.papers.whole import standing_said
from nejime.papers.wording import plant_name
from nejime.plants.table import Plant, plant
from nejime.standing.remedies import remedies
from nejime.standing.verdict import judge

FRONT_MM, PLAN_MM = (150.0, 120.0), (120.0, 110.0)  # [own] as large as a screen shows them


def handout_of(shelf: Shelf, piece_id: int, today: dt.date) -> bytes:
    """The handout of a piece, as PDF. Raises `Missing`, `InputError`."""
    found = shelf.get(piece_id)
    words, stock = words_for(shelf), stock_for(shelf, today)
    told = _told(on_table(found.content), found.name, words)
    return print_sheets([handout(told, words, stock)], stock, found.name).pdf


def _told(table: Table, name: str, words: Words) -> Told:
    verdict = judge(table.piece, table.bodies)
    helps = remedies(table.piece, table.bodies, verdict=verdict)
    return Told(
        name=name,
        piece=table.piece,
        standing=standing_said(verdict, helps),
        notes=verdict.remarks,
        cautions=tuple(of(plant_cautions(_plants(table), goes_home=True), words)),
        plants={stem: plant_name(stuff.plant) for stem, stuff in table.made.stuff.items()},
        looks=table.looks(),
    )


def _plants(table: Table) -> list[Plant]:
    """The plants of a piece, each once."""
    return [plant(each) for each in dict.fromkeys(s.plant for s in table.made.stuff.values())]


def drawings_of(shelf: Shelf, piece_id: int, words: Words) -> dict[str, str]:
    """The piece from the front, the right and the teacher's side, and from above, with numbers."""
    shown = on_table(shelf.get(piece_id).content).scene()
    wide, high = FRONT_MM
    found = {
        side: elevation(shown, side, words, width_mm=wide, height_mm=high)
        for side in ("front", "right", "teacher")
    }
    return {**found, "plan": plan(shown, words, width_mm=PLAN_MM[0], height_mm=PLAN_MM[1])}

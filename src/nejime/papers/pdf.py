"""Printing: sheets in, PDF out. The one module that knows the compiler.

Model: all sheets of a printing go through one run. Templates and drawings are handed over in
memory; fonts are the packaged ones alone; the standard PDF/UA-1 is on, with which the compiler
refuses a page without title, language, tags or descriptions of drawings. A warning is a failure.
Equal sheets on equal stock give equal bytes: the only date is the stock's.
"""

from __future__ import annotations

import json
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from pathlib import Path
from typing import Any, cast

import typst

from nejime.basis.errors import refuse
from nejime.papers.sheet import MARGIN_MM, Sheet, Stock

FONTS = Path(__file__).parent / "fonts"
FAMILIES = ("Noto Sans", "Noto Sans JP", "Source Serif 4", "Zen Old Mincho")
NOT_IN_FONTS = "□"  # stands for a letter that no packaged font has
MOST_LETTERS = 200  # [own] letters replaced before we give up: a name is shorter
_MISSING = re.compile(r'the text `"(.+?)"` could not be displayed')


class PrintingFailed(RuntimeError):
    """The compiler refused a sheet, or warned of something: a fault of a template or a drawing."""


@dataclass(frozen=True, slots=True)
class Printed:
    """A printed PDF, and the letters that no font of ours has; they are shown as □."""

    pdf: bytes
    not_shown: tuple[str, ...] = ()


@cache
def _fonts() -> typst.Fonts:
    found = typst.Fonts(
        include_system_fonts=False, include_embedded_fonts=False, font_paths=[FONTS]
    )
    if not set(FAMILIES) <= set(found.families()):
        raise refuse("", "papers.no-fonts", "papers.no-fonts-try")
    return found


@cache
def _templates() -> Mapping[str, bytes]:
    folder = files("nejime.papers") / "templates"
    return {file.name: file.read_bytes() for file in folder.iterdir() if file.name.endswith(".typ")}


def print_sheets(sheets: Sequence[Sheet], stock: Stock, title: str = "") -> Printed:
    """All sheets as one PDF, in one run.

    Raises `InputError` where the fonts are missing, `PrintingFailed` where the compiler refuses.
    """
    job, drawings = _job(sheets, stock, title or sheets[0].title)
    text = json.dumps(job, ensure_ascii=False, sort_keys=True)
    missing: list[str] = []
    for _ in range(MOST_LETTERS):
        inputs = {**_templates(), **drawings, "job.json": text.encode()}
        try:
            return Printed(_compiled(inputs), tuple(missing))
        except typst.TypstError as trouble:
            letters = [found for found in _MISSING.findall(str(trouble)) if found in text]
            if not letters:
                raise PrintingFailed(str(trouble)) from trouble
            missing += letters
            for letter in letters:
                text = text.replace(letter, NOT_IN_FONTS)
    raise PrintingFailed(f"too many letters that no font has: {missing}")


def picture_of(sheets: Sequence[Sheet], stock: Stock, dots_per_inch: float = 110) -> list[bytes]:
    """The pages as PNG pictures, for a screen or a README."""
    job, drawings = _job(sheets, stock, sheets[0].title)
    text = json.dumps(job, ensure_ascii=False, sort_keys=True)
    inputs = {**_templates(), **drawings, "job.json": text.encode()}
    made = typst.compile(
        cast("Any", inputs),
        font_paths=_fonts(),
        ignore_system_fonts=True,
        format="png",
        ppi=dots_per_inch,
    )
    return [made] if isinstance(made, bytes) else [page for page in made if page is not None]


def _compiled(inputs: Mapping[str, bytes]) -> bytes:
    made, warnings = typst.compile_with_warnings(
        cast("Any", dict(inputs)),
        font_paths=_fonts(),
        ignore_system_fonts=True,
        pdf_standards=["ua-1"],
    )
    if warnings:
        raise PrintingFailed("; ".join(str(warning) for warning in warnings))
    return made


def _job(
    sheets: Sequence[Sheet], stock: Stock, title: str
) -> tuple[dict[str, Any], dict[str, bytes]]:
    """The job as the templates read it, and the drawings as files, equal ones once."""
    drawings: dict[str, bytes] = {}
    names: dict[str, str] = {}
    listed = []
    for sheet in sheets:
        placed = {}
        for key, drawing in sheet.drawings.items():
            name = names.setdefault(drawing.svg, f"drawing-{len(names) + 1}.svg")
            drawings[name] = drawing.svg.encode()
            placed[key] = {
                "file": name,
                "alt": drawing.alt,
                "width": drawing.width_mm,
                "height": drawing.height_mm,
            }
        listed.append(
            {
                "template": sheet.template,
                "title": sheet.title,
                "data": sheet.data,
                "drawings": placed,
                "stamp": _foot(stock, sheet.rule),
            }
        )
    job = {
        "title": title,
        "author": stock.author,
        "paper": {"A4": "a4", "Letter": "us-letter"}[stock.paper],
        "large": stock.large,
        "text-size": stock.text_pt,
        "margin": MARGIN_MM,
        "language": stock.language,
        "date": [stock.date.year, stock.date.month, stock.date.day],
        "keywords": sorted({_stamp(stock, sheet.rule) for sheet in sheets}),
        "sheets": listed,
    }
    return job, drawings


def _foot(stock: Stock, rule: str) -> str:
    """Version and proportions, as they are printed at the foot."""
    return " · ".join(part for part in (f"nejime {stock.version}".strip(), rule) if part)


def _stamp(stock: Stock, rule: str) -> str:
    """Version, proportions and the number of the fixed draws, as they are kept in the file."""
    draws = "" if stock.seed is None else f"draws {stock.seed}"
    return " · ".join(part for part in (_foot(stock, rule), draws) if part)

"""The picture at the top of the README: papers of the first example, laid on a table.

Run with the project's environment and Pillow, which nejime itself does not need:
`pip install pillow`, then `python workings/readme_picture.py`. Writes docs/pictures/papers.png.
"""

from __future__ import annotations

import datetime as dt
import io
from pathlib import Path

from PIL import Image, ImageDraw, ImageFilter

from nejime.basis.sayings import Words
from nejime.desk.plan_class import read_and_plan, words_of
from nejime.lesson.plan import LessonPlan
from nejime.papers.pdf import picture_of
from nejime.papers.sheet import Sheet
from nejime.papers.whole import class_sheets, handouts, stock_of

ROOT = Path(__file__).parent.parent
EXAMPLE = ROOT / "examples" / "1-saturday-mixed-bowls.toml"
PICTURE = ROOT / "docs" / "pictures" / "papers.png"
TODAY = dt.date(2027, 2, 1)
SIZE = (1800, 1190)
TABLE = (232, 227, 217)
SHADOW = (70, 60, 45, 90)
PAGE_HIGH = 1010
DOTS_PER_INCH = 130


def pages(sheets: list[Sheet], plan: LessonPlan) -> list[Image.Image]:
    """Every page of some sheets as a picture."""
    found = picture_of(sheets, stock_of(plan), DOTS_PER_INCH)
    return [Image.open(io.BytesIO(page)).convert("RGBA") for page in found]


def sized(page: Image.Image, high: int) -> Image.Image:
    """A page at a height."""
    return page.resize((round(page.width * high / page.height), high), Image.Resampling.LANCZOS)


def laid(table: Image.Image, page: Image.Image, place: tuple[int, int], turn_deg: float) -> None:
    """Lay a page on the table with a soft shadow."""
    turned = page.rotate(turn_deg, expand=True, resample=Image.Resampling.BICUBIC)
    shade = Image.new("RGBA", table.size, (0, 0, 0, 0))
    dark = Image.new("RGBA", turned.size, SHADOW)
    shade.paste(dark, (place[0] + 6, place[1] + 10), turned.split()[3])
    table.alpha_composite(shade.filter(ImageFilter.GaussianBlur(14)))
    table.alpha_composite(turned, place)


def framed(page: Image.Image) -> Image.Image:
    """A page with a hair line around it, so that white stays apart from light."""
    edge = ImageDraw.Draw(page)
    edge.rectangle((0, 0, page.width - 1, page.height - 1), outline=(214, 208, 196, 255))
    return page


def main() -> None:
    """Make the picture."""
    plan = read_and_plan(EXAMPLE, TODAY)
    words: Words = words_of(plan.lesson)
    sheets = {sheet.name: sheet for sheet in class_sheets(plan, words, stock_of(plan))}
    front, back = (
        framed(sized(page, PAGE_HIGH)) for page in pages([handouts(plan, words)[0]], plan)
    )
    teacher = framed(sized(pages([sheets["teachers-sheet"]], plan)[0], 760))
    order = framed(sized(pages([sheets["piles-and-sets"]], plan)[0], 760))
    table = Image.new("RGBA", SIZE, (*TABLE, 255))
    laid(table, order, (1200, 330), -5.5)
    laid(table, teacher, (1180, 40), 3.5)
    laid(table, back, (640, 120), 1.2)
    laid(table, front, (60, 70), -1.0)
    PICTURE.parent.mkdir(parents=True, exist_ok=True)
    colours = table.convert("RGB").quantize(
        256, Image.Quantize.MAXCOVERAGE, dither=Image.Dither.NONE
    )
    colours.save(PICTURE, optimize=True)


if __name__ == "__main__":
    main()

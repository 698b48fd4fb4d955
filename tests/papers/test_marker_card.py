"""The marker card as it is printed: found by an independent reader, at true size."""

from __future__ import annotations

import io
import subprocess
from collections.abc import Callable
from pathlib import Path

import cv2
import numpy as np
import pytest
from papers.in_pdf import MM_PER_PT, letters, opened, strokes
from PIL import Image

from nejime.basis.sayings import Words
from nejime.papers.marker_card import marker_card
from nejime.papers.pdf import print_sheets
from nejime.papers.sheet import Stock
from nejime.photo.markers import find_card

Make = Callable[..., Stock]
PLACES_MM = {0: (12, 12), 1: (158, 12), 2: (158, 96), 3: (12, 96)}


def printed(words: Words, stock: Stock) -> bytes:
    return print_sheets([marker_card(words)], stock).pdf


def as_picture(pdf: bytes, folder: Path, dots_per_inch: int) -> np.ndarray:
    """The page as another program draws it."""
    file = folder / "card.pdf"
    file.write_bytes(pdf)
    told = ["pdftoppm", "-r", str(dots_per_inch), "-gray", "-singlefile", str(file)]
    done = subprocess.run(told, capture_output=True, check=True)
    return np.asarray(Image.open(io.BytesIO(done.stdout)))


@pytest.mark.source("hand", "an A5 sheet on its side is 210 by 148 mm; a line of 10 cm is 100 mm")
@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_the_card_is_one_page_of_its_own_size_with_a_line_of_ten_centimetres(
    words: Words, stock: Make, paper: str
) -> None:
    pdf = opened(printed(words, stock(paper)))
    (page,) = pdf.pages
    size = [float(each) * MM_PER_PT for each in page.mediabox[2:]]
    assert size == pytest.approx([210.0, 148.0], abs=0.01)
    level = [each.long_mm for each in strokes(page) if each.level]
    assert any(long == pytest.approx(100.0, abs=0.05) for long in level)
    assert min(each.size_pt for each in letters(pdf)) >= 11.9


@pytest.mark.needs("pdftoppm")
@pytest.mark.source("bradski2000", "DICT_4X4_50, found by the library's own detector")
@pytest.mark.source("hand", "top left at (12, 12), (158, 12), (158, 96), (12, 96) mm, side 40")
@pytest.mark.parametrize("dots_per_inch", [72, 150])
def test_the_printed_markers_stand_where_the_card_says(
    words: Words, stock: Make, tmp_path: Path, dots_per_inch: int
) -> None:
    picture = as_picture(printed(words, stock()), tmp_path, dots_per_inch)
    table = np.full((picture.shape[0] + 200, picture.shape[1] + 200), 120, np.uint8)
    table[100:-100, 100:-100] = picture
    found = find_card(table)
    assert [each.id for each in found.markers] == [0, 1, 2, 3]
    for marker in found.markers:
        x, y = PLACES_MM[marker.id]
        true = np.array([(x, y), (x + 40, y), (x + 40, y + 40), (x, y + 40)])
        seen = (np.array(marker.corners) - 100 + 0.5) * 25.4 / dots_per_inch
        assert seen == pytest.approx(true, abs=0.5 * 25.4 / dots_per_inch)


@pytest.mark.needs("pdftoppm")
@pytest.mark.source("bradski2000", "detectMarkers on the page itself, without the project's code")
def test_another_reader_finds_the_same_numbers(words: Words, stock: Make, tmp_path: Path) -> None:
    picture = as_picture(printed(words, stock()), tmp_path, 100)
    cells = cv2.aruco.getPredefinedDictionary(cv2.aruco.DICT_4X4_50)
    _, numbers, _ = cv2.aruco.ArucoDetector(cells).detectMarkers(picture)
    assert sorted(np.ravel(numbers).tolist()) == [0, 1, 2, 3]


@pytest.mark.needs("pdftoppm")
@pytest.mark.source("hand", "a cell is 40 / 6 = 6.67 mm; white is 255")
@pytest.mark.parametrize("unit", ["cm", "in", "both"])
def test_the_paper_is_white_for_a_cell_around_every_marker(
    stock: Make, tmp_path: Path, unit: str
) -> None:
    picture = as_picture(printed(Words(unit=unit), stock()), tmp_path, 254)
    for x, y in PLACES_MM.values():
        around = picture[10 * y - 65 : 10 * y + 465, 10 * x - 65 : 10 * x + 465].copy()
        around[63:467, 63:467] = 255
        assert around.min() == 255

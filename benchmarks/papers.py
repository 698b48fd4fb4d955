"""How long 40 handouts take, and how large they are, against the same pages through WeasyPrint.

Both print what one class of 40 needs: two sides for each of 40 people, eight different vessels
among them, each with the same words, table and drawings, A4, tagged, with the packaged fonts.
The drawings are made beforehand for both, and handed to WeasyPrint as images, which it takes
faster than SVG inside the page. WeasyPrint is not a dependency: install it to compare.

Run: python benchmarks/papers.py
"""

from __future__ import annotations

import base64
import datetime as dt
import html
import time
from collections.abc import Callable
from dataclasses import replace

from nejime.basis.sayings import Words
from nejime.forms.piece import piece
from nejime.forms.rules import packaged
from nejime.forms.supporting import with_supporting
from nejime.forms.vessel import vessel
from nejime.papers.handout import Told, handout
from nejime.papers.pdf import FONTS, print_sheets
from nejime.papers.sheet import Sheet, Stock

PEOPLE = 40
KIND = "data:image/svg+xml;base64,"
FASTER, MOST_MB = 8.0, 15.0  # what is aimed at
STOCK = Stock("A4", dt.date(2026, 3, 14), version="benchmark", seed=1, author="Town Library")
CAUTIONS = (
    "Pin holders are sharp. Lift them by the sides.",
    "Pin holders are usually lead. Do not eat again from a bowl in which one has stood.",
    "No plant here is food. Wash your hands before you eat or drink.",
)


def class_of(count: int) -> list[Sheet]:
    """Handouts for so many people with eight vessels; equal pieces share their drawings."""
    words, rule = Words(unit="both"), packaged()["width-plus-height"]
    sizes = [(20 + 2 * number, 5 + number % 3) for number in range(8)]
    pieces = [
        with_supporting(
            piece(vessel("round", wide, high), rule, "upright"), helpers=2, hearts=1, leaves=2
        )
        for wide, high in sizes
    ]
    told = Told("", pieces[0], occasion="Early spring in a bowl", cautions=CAUTIONS)
    first = [handout(replace(told, piece=each), words, STOCK) for each in pieces]
    return [
        handout(
            replace(told, name=f"Person {number + 1}", piece=pieces[number % 8]),
            words,
            STOCK,
            drawings=first[number % 8].drawings,
        )
        for number in range(count)
    ]


def as_html(sheets: list[Sheet]) -> str:
    """The same pages for WeasyPrint."""
    return (
        "<html lang=en><head><title>Handouts</title><style>"
        "@page { size: A4; margin: 15mm 18mm 19mm }"
        "@font-face { font-family: N; src: url(NotoSans_400Regular.ttf) }"
        "@font-face { font-family: N; font-weight: bold; src: url(NotoSans_700Bold.ttf) }"
        "@font-face { font-family: J; src: url(NotoSansJP_400Regular.ttf) }"
        "@font-face { font-family: S; src: url(SourceSerif4_600SemiBold.ttf) }"
        "@font-face { font-family: Z; src: url(ZenOldMincho_600SemiBold.ttf) }"
        "body { font: 12pt N, J } h1 { font: 26pt S, Z; margin: 0 } .side { break-after: page }"
        ".big { font: 30pt S } table { width: 100%; border-collapse: collapse }"
        "td, th { border-bottom: 0.5pt solid #999; text-align: left }"
        "p { margin: 1.5mm 0 } .views { display: flex }"
        ".steps { display: flex; flex-wrap: wrap } .steps div { width: 33% }"
        "</style></head><body>" + "".join(map(_person, sheets)) + "</body></html>"
    )


def _person(sheet: Sheet) -> str:
    data = sheet.data

    def drawing(name: str) -> str:
        found = sheet.drawings.get(name)
        if found is None:
            return ""
        data = base64.b64encode(found.svg.encode()).decode()
        size = f"width:{found.width_mm}mm;height:{found.height_mm}mm"
        return f'<img alt="{html.escape(found.alt)}" style="{size}" src="{KIND}{data}">'

    rows = "".join(
        f"<tr><td>{row['kanji']} {row['stem']}<br>{row['romaji']}</td>"
        f"<td><span class=big>{row['cut']['number']}</span> {row['cut']['unit']}<br>"
        f"{row['cut']['also']}</td><td>{row['lean']}<br>{row['degrees']}</td>"
        f"<td>{row['direction']}</td></tr>"
        for row in data["stems"]
    )
    lines = "".join(
        f"<p>{html.escape(line['role'])}: {html.escape(' · '.join(line['stems']))}</p>"
        for line in data["supporting"]
    )
    steps = "".join(
        f"<div>{drawing(step['drawing'])}<p>{html.escape(step['says'])}</p></div>"
        for step in data["steps"]
    )
    lists = "".join(
        "<ul>" + "".join(f"<li>{html.escape(each)}</li>" for each in data[name]) + "</ul>"
        for name in ("cautions", "care")
    )
    about = "".join(f"<p>{html.escape(line)}</p>" for line in data["vessel"] + data["remarks"])
    return (
        f"<section class=side><p>{data['occasion']}</p><h1>{html.escape(data['name'])} "
        f"{data['kanji']}</h1>{drawing('icon')}{about}<table><tr><th>Stem<th>Cut<th>Leans"
        f"<th>Towards</tr>{rows}</table>{lines}"
        f"<div class=views>{drawing('front')}{drawing('plan')}</div></section>"
        f"<section class=side><h2>Steps</h2><div class=steps>{steps}</div>{lists}</section>"
    )


def by_weasyprint(sheets: list[Sheet]) -> bytes:
    """The same pages through WeasyPrint, tagged as PDF/UA asks."""
    from weasyprint import HTML

    text = as_html(sheets)
    return bytes(HTML(string=text, base_url=f"{FONTS}/").write_pdf(pdf_variant="pdf/ua-1"))


def timed(make: Callable[[], bytes]) -> tuple[float, bytes]:
    """Seconds of the first run, and what was made: the compiler remembers pages it has set."""
    start = time.perf_counter()
    made = make()
    return time.perf_counter() - start, made


def main() -> None:
    """Print what was measured beside what is aimed at."""
    start = time.perf_counter()
    sheets = class_of(PEOPLE)
    print(f"drawings for {PEOPLE} people, 8 vessels: {time.perf_counter() - start:.1f} s")
    ours, pdf = timed(lambda: print_sheets(sheets, STOCK, "Handouts").pdf)
    print(f"{PEOPLE} handouts in one run: {ours:.2f} s, {1000 * ours / PEOPLE:.0f} ms each")
    print(f"size: {len(pdf) / 1e6:.1f} MB; aimed at: under {MOST_MB:.0f} MB")
    try:
        theirs, other = timed(lambda: by_weasyprint(sheets))
    except ImportError:
        print("WeasyPrint is not installed: nothing to compare with.")
        return
    print(f"the same through WeasyPrint: {theirs:.2f} s, {len(other) / 1e6:.1f} MB")
    print(f"{theirs / ours:.1f} times faster; aimed at: {FASTER:.0f} times")


if __name__ == "__main__":
    main()

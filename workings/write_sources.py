"""Write docs/sources.md from the packaged list of sources: `python workings/write_sources.py`."""

from __future__ import annotations

from itertools import groupby
from pathlib import Path

from nejime.basis.sources import GRADES, Source, sources

PAGE = Path(__file__).resolve().parent.parent / "docs" / "sources.md"
HEAD = """# Sources

Every fact, constant and expected value in nejime names one of these by its key. The page is
written by `workings/write_sources.py` from `src/nejime/data/sources.toml`; edit that file, not
this one.
"""
MEANING = {
    "teacher": "The teacher's own",
    "published": "Books, papers and standards",
    "extension": "Pages of agricultural extension services",
    "trade": "Pages of the trade",
    "derived": "Worked out from other sources",
    "practice": "Common practice of the trade",
    "memory": "From memory, not yet checked",
    "own": "Our own choice",
    "hand": "Calculation by hand",
}


def entry(source: Source) -> str:
    """One source as an item of a list, with what is known of its address, licence and reading."""
    more = (("Licence", source.licence), ("Read", source.read))
    lines = [f"- **{source.key}**: {source.cite}"]
    lines += [f"  <{source.address}>"] if source.address else []
    return "\n".join(lines + [f"  {name}: {text}." for name, text in more if text])


def page() -> str:
    """The whole page: a heading for each grade of evidence, the best first."""
    ordered = sorted(
        sources().values(), key=lambda source: (GRADES.index(source.grade), source.key)
    )
    parts = [
        f"## {MEANING[grade]}\n\n" + "\n".join(map(entry, group)) + "\n"
        for grade, group in groupby(ordered, key=lambda source: source.grade)
    ]
    return "\n".join([HEAD, *parts])


if __name__ == "__main__":
    PAGE.write_text(page(), encoding="utf-8")
    print(f"Written: {PAGE.name}")

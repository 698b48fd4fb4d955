"""The page of sources says what the packaged list says."""

from __future__ import annotations

import runpy
from pathlib import Path

ROOT = Path(__file__).parent.parent
SCRIPT = ROOT / "workings" / "write_sources.py"


def test_the_page_of_sources_is_up_to_date() -> None:
    written = (ROOT / "docs" / "sources.md").read_text(encoding="utf-8")
    assert written == runpy.run_path(str(SCRIPT))["page"](), f"please run {SCRIPT.name}"

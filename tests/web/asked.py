"""What a page says: its faults by field, and its plain text."""

from __future__ import annotations

import datetime as dt
import html
import re

TODAY = dt.date(2027, 2, 20)
"""The day on which the pages of the tests are open."""


def faults(page: str) -> dict[str, str]:
    """What stands beside each field that is wrong."""
    found = re.findall(r'<p class="fault" id="(.*?)-fault">(.*?)</p>', page, re.DOTALL)
    return {html.unescape(name): html.unescape(says) for name, says in found}


def text(page: str) -> str:
    """The words of a page, without its drawings."""
    bare = re.sub(r"<svg.*?</svg>|<[^>]+>", " ", page, flags=re.DOTALL)
    return " ".join(html.unescape(bare).split())


def value(page: str, name: str) -> str:
    """What stands in a text field."""
    found = re.search(rf'<input id="{re.escape(name)}" name="[^"]*" value="([^"]*)"', page)
    assert found is not None, name
    return html.unescape(found[1])

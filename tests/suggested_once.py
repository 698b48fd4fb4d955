"""A new piece gets its flowers and leaves once for all tests that begin the same: it takes seconds.

What a piece begins from is its whole tree and decides the answer, so that the answer may be kept.
How it comes about has its own tests, in `composing`, which this does not touch.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from copy import deepcopy
from typing import Any
from unittest.mock import patch

import pytest


@pytest.fixture(scope="session", autouse=True)
def suggested_once() -> Iterator[None]:
    """Every piece that begins like one before stands as that one did."""
    from nejime.desk import pieces

    settled, known = pieces.settled, dict[str, Any]()

    def kept(tree: Any) -> Any:
        asked = json.dumps(tree, sort_keys=True)
        if asked not in known:
            known[asked] = settled(tree)
        return deepcopy(known[asked])

    with patch.object(pieces, "settled", kept):
        yield

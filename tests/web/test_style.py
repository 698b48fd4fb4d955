"""The style sheets: what a merge or a slip of the finger breaks without a word."""

from importlib.resources import files

import pytest

STATIC = files("nejime") / "web" / "static"


@pytest.mark.parametrize("name", ["app.css", "stage.css"])
def test_every_block_is_closed_before_the_next_heading(name: str) -> None:
    depth, open_at = 0, []
    for number, line in enumerate((STATIC / name).read_text("utf-8").splitlines(), start=1):
        if line.startswith("/* ---") and depth:
            open_at.append(number)
        depth += line.count("{") - line.count("}")
    assert open_at == []
    assert depth == 0

"""Every sentence of this room can be said, and none is left over."""

from __future__ import annotations

import ast
from pathlib import Path

from nejime.basis.angles import COMPASS
from nejime.basis.sayings import Saying, Words, texts
from nejime.standing.verdict import side

ROOM = Path(__file__).parents[2] / "src" / "nejime" / "standing"
BUILT = (  # keys that are put together from parts
    *(
        f"{word}-{what}"
        for word in ("falls", "try", "try-nudge")
        for what in ("holder", "bowl", "vase")
    ),
    *(f"top-up-{what}" for what in ("bowl", "vase")),
    *(f"side.{word}" for word in COMPASS),
    *(f"case.{key}" for key in ("above-zero", "at-least-zero", "place-of-2", "place-of-3", "list")),
)


def written() -> set[str]:
    """Keys that stand whole in the source."""
    return {
        node.value
        for file in ROOM.glob("*.py")
        for node in ast.walk(ast.parse(file.read_text(encoding="utf-8")))
        if isinstance(node, ast.Constant)
        and isinstance(node.value, str)
        and node.value.startswith("standing.")
    }


def test_texts_and_keys_are_the_same() -> None:
    asked = {key for key in written() if not key.endswith((".", "-"))}
    asked |= {f"standing.{key}" for key in BUILT}
    known = {
        key.removesuffix(".one").removesuffix(".many")
        for key in texts()
        if key.startswith("standing.")
    }
    assert known - asked == set()
    assert asked - known == set()


def test_every_direction_fits_its_sentence() -> None:
    said = {
        Words().say(Saying("standing.falls-bowl", side=side(45.0 * at)))
        for at in range(len(COMPASS))
    }
    assert len(said) == len(COMPASS)
    assert "Will fall: the bowl tips towards the back." in said

"""Pieces to look at in a browser: invented, of early spring."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from nejime.drawings.scene import Look, scene
from nejime.drawings.skeleton.chance import seed_of
from nejime.drawings.wire import wire
from nejime.forms.piece import piece
from nejime.forms.rules import packaged
from nejime.forms.supporting import with_supporting
from nejime.forms.vessel import Vessel, vessel

RULE = packaged()["width-plus-height"]
SPRING = {"main": "forsythia", "helper": "forsythia", "heart": "tulip", "leaf": "aspidistra"}
EVERGREEN = {"main": "pine", "helper": "camellia", "heart": "chrysanthemum", "leaf": "eucalyptus"}


def told(
    ware: Vessel, plants: Mapping[str, str], glaze: str, helpers: int = 2, leaves: int = 3
) -> dict[str, Any]:
    """The scene of an upright piece, as a browser gets it."""
    made = with_supporting(piece(ware, RULE, "upright"), helpers=helpers, hearts=2, leaves=leaves)
    looks = {
        each.id: Look("branch", 6.0, 5.0, "bare-twig", plants[each.role], seed_of(each.id))
        for each in made.stems
    }
    return wire(scene(made, looks), glaze=glaze)


PIECES: Mapping[str, Callable[[], dict[str, Any]]] = {
    "spring": lambda: told(vessel("round", 30, 6), SPRING, "celadon"),
    "vase": lambda: told(vessel("vase", 12, 28), EVERGREEN, "iron"),
    "full": lambda: told(vessel("round", 30, 6), SPRING, "celadon", helpers=6, leaves=5),
}

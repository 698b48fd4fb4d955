"""The cupboard: vessels and pin holders, and how many there are of each."""

from __future__ import annotations

from nejime.web.keeping import routes

ROUTES = routes("cupboard", ("vessel", "holder"))

"""Garden and shops: what can be cut for nothing, and what the shops have."""

from __future__ import annotations

from nejime.web.keeping import routes

ROUTES = routes("places", ("garden", "shop"))

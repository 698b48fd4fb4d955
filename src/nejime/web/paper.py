"""A paper as an answer: the browser shows it, and prints it."""

from __future__ import annotations

from starlette.responses import Response

POLICY = "default-src 'none'; object-src 'self'; style-src 'unsafe-inline'; frame-ancestors 'none'"
"""What a browser's own PDF window needs, and no more."""


def paper(pdf: bytes, name: str) -> Response:
    """A PDF, shown under this file name."""
    headers = {
        "Content-Disposition": f'inline; filename="{name}.pdf"',
        "Content-Security-Policy": POLICY,
    }
    return Response(pdf, media_type="application/pdf", headers=headers)

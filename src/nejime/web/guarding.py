"""What keeps strangers out of a program that answers on the reader's own machine.

Model: a page of some other site may make her browser ask ours. So only this machine's own names
are answered to, what changes something must come from one of our pages, and our pages may load
nothing from elsewhere.
Source: the Host check and `Sec-Fetch-Site` against rebinding and cross-site requests, as the OWASP
cheat sheet on cross-site request forgery has them; content security policy level 3 of the W3C.
"""

from __future__ import annotations

from urllib.parse import urlsplit

from starlette.datastructures import Headers, MutableHeaders
from starlette.responses import PlainTextResponse
from starlette.types import ASGIApp, Message, Receive, Scope, Send

OWN_NAMES = ("127.0.0.1", "localhost", "::1", "testserver")
READING = ("GET", "HEAD")
POLICY = "; ".join(
    (
        "default-src 'none'",
        "script-src 'self'",
        "style-src 'self'",
        "img-src 'self' data: blob:",
        "font-src 'self'",
        "connect-src 'self'",
        "form-action 'self'",
        "base-uri 'none'",
        "frame-ancestors 'none'",
    )
)
OURS = ("X-Answers", "nejime")
"""By which a second start knows that the first one is open."""
HEADERS = {
    OURS[0]: OURS[1],
    "Content-Security-Policy": POLICY,
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "same-origin",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
}


class Guard:
    """Refuses what does not come from this machine and our pages; adds the policy to answers."""

    def __init__(self, app: ASGIApp) -> None:
        self.app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """One request."""
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return
        headers = Headers(scope=scope)
        if not own_name(headers.get("host", "")):
            await PlainTextResponse("Not for this machine.", 400)(scope, receive, send)
            return
        if scope["method"] not in READING and not from_our_page(headers):
            await PlainTextResponse("Not from one of our pages.", 403)(scope, receive, send)
            return

        async def send_guarded(message: Message) -> None:
            if message["type"] == "http.response.start":
                added = MutableHeaders(scope=message)
                for name, value in HEADERS.items():
                    added.setdefault(name, value)
                added.setdefault("Cache-Control", "no-store")
            await send(message)

        await self.app(scope, receive, send_guarded)


def own_name(host: str) -> bool:
    """Whether a Host header names this machine itself."""
    return (urlsplit(f"//{host}").hostname or "") in OWN_NAMES


def from_our_page(headers: Headers) -> bool:
    """Whether a request that changes something comes from one of our pages."""
    site = headers.get("sec-fetch-site")
    if site is not None:
        return site == "same-origin"
    origin = headers.get("origin")
    return origin is None or urlsplit(origin).netloc == headers.get("host")

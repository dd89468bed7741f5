"""What surrounds every answer: safety headers, limits on rate and size, and a log without secrets.

Content-Security-Policy: scripts and styles come from this server's own files only.
"""

import logging
import re
import time
from collections.abc import MutableMapping
from typing import Any

from starlette.datastructures import Headers, MutableHeaders
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from curriculum.server.limits import FEEDS, PAGES, Limiter

log = logging.getLogger("curriculum.server")

MOST_BYTES = 128 * 1024
"""Largest body of a request; the largest honest one, a whole record, has a tenth of that."""

FEED = re.compile(r"(/team/[^/]+)?/f/")
"""Where calendars stand: of the season served, or of one in a club."""

POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; connect-src 'self';"
    " worker-src 'self'; form-action 'self'; frame-ancestors 'none'; base-uri 'none'"
)
HEADERS = {
    "Content-Security-Policy": POLICY,
    "X-Content-Type-Options": "nosniff",
    "X-Frame-Options": "DENY",
    "Referrer-Policy": "no-referrer",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Permissions-Policy": "camera=(), microphone=(), geolocation=()",
}


def headers_of(*, secure: bool) -> dict[str, str]:
    """Return what every answer carries. secure: others reach this server through https."""
    lasting = {"Strict-Transport-Security": "max-age=31536000"} if secure else {}
    return {**HEADERS, **lasting}


class TooLargeError(Exception):
    """A request's body is larger than any honest one."""


class Guard:
    """Wraps the application; see the module's words."""

    def __init__(self, app: ASGIApp, *, secure: bool) -> None:
        self.app = app
        self.headers = headers_of(secure=secure)
        self.pages, self.feeds = Limiter(PAGES), Limiter(FEEDS)

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Serve one request."""
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return
        began, status = time.perf_counter(), 500

        async def answer(message: Message) -> None:
            nonlocal status
            if message["type"] == "http.response.start":
                status = message["status"]
                headers = MutableHeaders(scope=message)
                for name, value in self.headers.items():
                    headers.setdefault(name, value)
            await send(message)

        try:
            await self._limited(scope, receive, answer)
        finally:
            spent = (time.perf_counter() - began) * 1000
            log.info("%s %s %s %.0f ms", scope["method"], _route(scope), status, spent)

    async def _limited(self, scope: Scope, receive: Receive, send: Send) -> None:
        client = scope.get("client")
        limiter = self.feeds if FEED.match(scope["path"]) else self.pages
        wait = limiter.wait(client[0] if client else "")
        if wait:
            await _refuse(send, 429, "Too many requests. Wait a little.", wait)
            return
        length = Headers(scope=scope).get("content-length", "0")
        if not length.isdecimal() or int(length) > MOST_BYTES:
            await _refuse(send, 413, "That is more than this server takes.")
            return
        seen, started = 0, False

        async def measured() -> Message:
            nonlocal seen
            message = await receive()
            seen += len(message.get("body", b""))
            if seen > MOST_BYTES:
                raise TooLargeError
            return message

        async def noted(message: Message) -> None:
            nonlocal started
            started = True
            await send(message)

        try:
            await self.app(scope, measured, noted)
        except TooLargeError:
            if started:
                raise
            await _refuse(send, 413, "That is more than this server takes.")


async def _refuse(send: Send, status: int, words: str, wait: int = 0) -> None:
    body = f"{words}\n".encode()
    headers = [
        (b"content-type", b"text/plain; charset=utf-8"),
        (b"content-length", f"{len(body)}".encode()),
    ]
    if wait:
        headers.append((b"retry-after", f"{wait}".encode()))
    await send({"type": "http.response.start", "status": status, "headers": headers})
    await send({"type": "http.response.body", "body": body})


def _route(scope: MutableMapping[str, Any]) -> str:
    """Return the form of the address that was asked for; what stands in it may be secret."""
    return str(getattr(scope.get("route"), "path", "(no page)"))

"""What every request must pass before it is looked at, and what every answer carries.

Another web page in the user's browser, or another machine that points a name at this one, must not
be able to read or tick anything: so Host must be one of ours, a write must come from our own page,
and on the local network nobody is served without a session.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from http.cookies import CookieError, SimpleCookie
from typing import TYPE_CHECKING
from urllib.parse import quote, unquote

from starlette.datastructures import Headers, MutableHeaders
from starlette.responses import HTMLResponse, PlainTextResponse, Response

if TYPE_CHECKING:
    from starlette.types import ASGIApp, Message, Receive, Scope, Send

    from recap.fit.page.gate import Gate

COOKIE = "recap_session"
WANTED = "recap_wanted"
"""A cookie that the door alone sees: where a device wanted to go that wasn't let in yet."""
WANTED_SECONDS = 900
DOOR = "/enter"
READS = frozenset({"GET", "HEAD"})
OPEN_PATHS = frozenset({DOOR, "/static/page.css", "/static/theme.js"})
"""What is served without a session: the door and what it is painted with."""

SECURITY_HEADERS = {
    "content-security-policy": (
        "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' blob:; connect-src 'self'; "
        "manifest-src 'self'; worker-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'"
    ),
    "x-content-type-options": "nosniff",
    "x-frame-options": "DENY",
    "referrer-policy": "same-origin",
    "cross-origin-opener-policy": "same-origin",
    "cross-origin-resource-policy": "same-origin",
    "permissions-policy": "geolocation=(), microphone=(), payment=()",
}

_ENCODED_SLASH = re.compile(rb"%2[fF]")


@dataclass(frozen=True, slots=True)
class Admission:
    """Who may come: ``hosts`` are the ``name:port`` of this server, ``gate`` asks for a session where there is one."""

    hosts: frozenset[str]
    gate: Gate | None = None
    secure: bool = False
    most_bytes: int = 25_000_000
    origins: frozenset[str] = field(init=False)

    def __post_init__(self) -> None:
        """Work out the origins of our own pages."""
        scheme = "https" if self.secure else "http"
        object.__setattr__(self, "origins", frozenset(f"{scheme}://{host}" for host in self.hosts))


class Guard:
    """ASGI middleware around the whole page."""

    def __init__(self, app: ASGIApp, admission: Admission) -> None:
        """Wrap ``app``."""
        self.app = app
        self.admission = admission

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Let the request through, or answer it with the reason why not."""
        if scope["type"] == "lifespan":
            await self.app(scope, receive, send)
            return
        if scope["type"] != "http":
            # No page of ours opens a web socket, so whoever does is no page of ours.
            await send({"type": "websocket.close", "code": 1008})
            return
        scope["path"] = _path(scope)
        refusal = self._refusal(scope)
        target = self.app if refusal is None else refusal
        await target(scope, receive, _adding_headers(send))

    def _refusal(self, scope: Scope) -> Response | None:
        headers = Headers(scope=scope)
        if headers.get("host", "").lower() not in self.admission.hosts:
            return PlainTextResponse("This server answers under its own address only.", 421)
        if "\0" in scope["path"]:  # no file and no set bears such a name, and looking for one is an error
            return PlainTextResponse("There is nothing of that name.", 404)
        if scope["method"] not in READS and not self._is_own_write(headers):
            return PlainTextResponse("Writes are accepted from the bench page itself only.", 403)
        length = headers.get("content-length", "0")
        if not length.isdecimal() or int(length) > self.admission.most_bytes:
            return PlainTextResponse("Too large.", 413)
        gate = self.admission.gate
        if gate is not None and scope["path"] not in OPEN_PATHS and not gate.knows(_session(headers)):
            return _ask_for_code(scope, secure=self.admission.secure)
        return None

    def _is_own_write(self, headers: Headers) -> bool:
        origin = headers.get("origin")
        site = headers.get("sec-fetch-site")
        return origin in self.admission.origins and site in {None, "same-origin"}


def _ask_for_code(scope: Scope, *, secure: bool) -> Response:
    """Refuse, and show people the way to the door; it leads back to where they wanted to go.

    Whoever scans the code in the terminal comes to the door by another way: a cookie remembers the place.
    """
    text = "Scan the code in the terminal first."
    if scope["path"].startswith(("/api/", "/static/", "/photo/")) or scope["method"] not in READS:
        return PlainTextResponse(text, 401)
    wanted = quote(scope["raw_path"].decode("ascii", "replace"), safe="")
    answer = HTMLResponse(
        '<!doctype html><html lang="en"><meta charset="utf-8"><meta name="viewport" content="width=device-width">'
        '<title>Code needed</title><link rel="stylesheet" href="/static/page.css">'
        f"<main><h1>Code needed</h1><p>{text}</p>"
        f'<p><a href="{DOOR}?to={wanted}">Type the code</a></p></main></html>',
        401,
    )
    answer.set_cookie(WANTED, wanted, WANTED_SECONDS, path=DOOR, httponly=True, samesite="lax", secure=secure)
    return answer


def _session(headers: Headers) -> str | None:
    try:
        jar = SimpleCookie(headers.get("cookie", ""))
    except CookieError:
        return None
    return jar[COOKIE].value if COOKIE in jar else None


def _path(scope: Scope) -> str:
    """Return the path decoded, but for slashes inside a name: those stay ``%2F``, so that they part nothing."""
    raw = scope.get("raw_path")
    if not raw:
        return str(scope["path"])
    return unquote(_ENCODED_SLASH.sub(b"%252F", bytes(raw).partition(b"?")[0]).decode("ascii", "replace"))


def _adding_headers(send: Send) -> Send:
    async def sending(message: Message) -> None:
        if message["type"] == "http.response.start":
            headers = MutableHeaders(scope=message)
            for name, value in SECURITY_HEADERS.items():
                headers.setdefault(name, value)
            headers.setdefault("cache-control", "no-store")
        await send(message)

    return sending

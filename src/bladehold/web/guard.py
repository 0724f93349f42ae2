"""What stands before every page: who may ask, how much may be sent, and what a browser may do with a page.

A page of another site that a browser has open must not reach the workbench: its name is not ours (Host), its
requests say where they come from (Origin), and no script but our own files runs (Content-Security-Policy).
"""

from __future__ import annotations

import hmac
import logging
from collections.abc import Callable, Iterable
from http.cookies import CookieError, SimpleCookie
from urllib.parse import parse_qs, urlencode, urlsplit

from starlette.datastructures import Headers, MutableHeaders
from starlette.responses import PlainTextResponse, RedirectResponse, Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send

_log = logging.getLogger("bladehold.web")

LARGEST = 1_000_000  # bytes of one request
COOKIE = "bladehold-token"
OWN_NAMES = ("127.0.0.1", "localhost", "::1")
POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; connect-src 'self'; "
    "font-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'"
)
_HEADERS = {
    "content-security-policy": POLICY,
    "x-content-type-options": "nosniff",
    "x-frame-options": "DENY",
    "referrer-policy": "same-origin",
    "cross-origin-opener-policy": "same-origin",
    "cross-origin-resource-policy": "same-origin",
    "cache-control": "no-store",
}


class Guard:
    """The outermost layer of the application.

    hosts - names under which the server may be asked; token - that whoever asks must show, None where only
    this machine can ask.
    """

    def __init__(self, app: ASGIApp, hosts: Iterable[str] = OWN_NAMES, token: str | None = None) -> None:
        self._app = app
        self._hosts = frozenset(name.lower() for name in hosts)
        self._token = token

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Refuse a request, or hand it on."""
        if scope["type"] == "lifespan":
            await self._app(scope, receive, send)
        if scope["type"] != "http":
            return
        refused = self._refusal(scope)
        if refused is not None:
            await refused(scope, receive, _with_headers(send)[0])
            return
        guarded, begun = _with_headers(send)
        taken = await _taken(receive) if scope["method"] not in {"GET", "HEAD"} else []
        if taken is None:
            await _said(413, f"more than {LARGEST} bytes were sent")(scope, receive, guarded)
            return
        try:
            await self._app(scope, _again(taken, receive), guarded)
        except Exception:
            # A fault of the program: told as one, its trace on the server's own terminal only.
            _log.exception("%s %s", scope["method"], scope["path"])
            if begun():
                raise
            words = "the program broke down here; what it said is on the server's terminal"
            await _said(500, words)(scope, receive, guarded)

    def _refusal(self, scope: Scope) -> Response | None:
        headers = Headers(scope=scope)
        hosts = headers.getlist("host")
        if len(hosts) != 1 or _name_of(hosts[0]) not in self._hosts:
            return _said(400, "this server is not asked under that name")
        if scope["method"] not in {"GET", "HEAD"} and not _from_here(headers, hosts[0]):
            return _said(403, "this request comes from another site")
        length = headers.get("content-length", "0")
        if not length.isdigit() or int(length) > LARGEST:
            return _said(413, f"more than {LARGEST} bytes were sent")
        return None if self._token is None else self._admission(scope, headers, self._token)

    def _admission(self, scope: Scope, headers: Headers, token: str) -> Response | None:
        """None for who shows the token; whoever brings it in the address gets it as a cookie instead."""
        asked = parse_qs(scope["query_string"].decode("latin-1"), keep_blank_values=True)
        if _same(asked.get("token", [""])[0], token):
            rest = urlencode({name: one for name, one in asked.items() if name != "token"}, doseq=True)
            path = f"/{scope['path'].lstrip('/')}"
            answer = RedirectResponse(f"{path}?{rest}" if rest else path, status_code=303)
            answer.set_cookie(COOKIE, token, httponly=True, samesite="strict")
            return answer
        shown = headers.get("authorization", "").removeprefix("Bearer ")
        if _same(shown, token) or _same(_cookie(headers), token):
            return None
        return _said(401, "open the address that the server printed when it was started: it holds the token")


def _same(one: str, other: str) -> bool:
    return hmac.compare_digest(one.encode(), other.encode())


def _cookie(headers: Headers) -> str:
    try:
        found = SimpleCookie(headers.get("cookie", "")).get(COOKIE)
    except CookieError:
        return ""
    return found.value if found is not None else ""


def _name_of(host: str) -> str:
    """The name in a Host header, without its port; "" for what is none."""
    try:
        return (urlsplit(f"//{host}").hostname or "").lower()
    except ValueError:
        return ""


def _from_here(headers: Headers, host: str) -> bool:
    origin = headers.get("origin")
    if origin is not None:
        return urlsplit(origin).netloc.lower() == host.lower()
    return headers.get("sec-fetch-site", "none") in {"same-origin", "none"}


def _said(status: int, words: str) -> PlainTextResponse:
    return PlainTextResponse(f"bladehold: {words}\n", status_code=status)


async def _taken(receive: Receive) -> list[Message] | None:
    """The whole of a request, None for more than is taken, whether its sender says how much or not."""
    found: list[Message] = []
    size = 0
    while True:
        message = await receive()
        found.append(message)
        size += len(message.get("body", b""))
        if size > LARGEST:
            return None
        if not message.get("more_body", False):
            return found


def _again(taken: list[Message], receive: Receive) -> Receive:
    """What was taken handed on, and then what comes after it."""
    waiting = iter(taken)

    async def replayed() -> Message:
        message = next(waiting, None)
        return await receive() if message is None else message

    return replayed


def _with_headers(send: Send) -> tuple[Send, Callable[[], bool]]:
    """The way out with our headers on every answer, and whether an answer has begun."""
    begun = False

    async def sending(message: Message) -> None:
        nonlocal begun
        if message["type"] == "http.response.start":
            begun = True
            headers = MutableHeaders(scope=message)
            for name, value in _HEADERS.items():
                headers.setdefault(name, value)
        await send(message)

    return sending, lambda: begun

"""Who may ask: this machine's own pages alone, or beyond it whoever holds the token."""

import hmac
from collections.abc import Awaitable, Callable, Mapping, MutableMapping
from ipaddress import ip_address
from typing import Any
from urllib.parse import parse_qsl, urlsplit

from starlette.responses import RedirectResponse

from fencewright.server.bodies import Body, Receive
from fencewright.server.errors import Refused, answer, error_text
from fencewright.server.intake import LARGEST_UPLOAD_BYTES

Scope = MutableMapping[str, Any]
Send = Callable[[MutableMapping[str, Any]], Awaitable[None]]
Application = Callable[[Scope, Receive, Send], Awaitable[None]]

LOOPBACK = ("localhost", "127.0.0.1", "::1")
COOKIE = "fencewright_token"
_LARGEST_BODY_BYTES = 45_000_000  # a job file of 20 MB as JSON text
_ROOM_BYTES = 400_000  # for the names and borders of a form; so little that the limit is told without it
_SAFE_METHODS = ("GET", "HEAD", "OPTIONS")
_POLICY = "; ".join(
    (
        "default-src 'none'",
        "script-src 'self'",
        "style-src 'self'",
        "img-src 'self' data: blob:",
        "font-src 'self'",
        "connect-src 'self'",
        "worker-src 'self'",
        "manifest-src 'self'",
        "object-src 'none'",
        "base-uri 'none'",
        "form-action 'none'",
        "frame-ancestors 'none'",
    )
)
HEADERS: Mapping[str, str] = {
    "content-security-policy": _POLICY,
    "x-content-type-options": "nosniff",
    "referrer-policy": "no-referrer",
    "cross-origin-opener-policy": "same-origin",
    "cross-origin-resource-policy": "same-origin",
    "permissions-policy": "camera=(), microphone=(), geolocation=(self)",
}


def is_loopback(host: str) -> bool:
    """Tell whether an address is this machine alone."""
    if host in LOOPBACK:
        return True
    try:
        return ip_address(host).is_loopback
    except ValueError:
        return False


class Guard:
    """Checks Host, Origin and token of every request, and adds the headers of safety to every answer."""

    def __init__(self, app: Application, host: str, token: str | None) -> None:
        self.app, self.host, self.token = app, host, token

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Take a request, or refuse it."""
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return

        headers = {name.decode("latin-1"): value.decode("latin-1") for name, value in scope["headers"]}
        body = Body(receive, headers)

        async def guarded(message: MutableMapping[str, Any]) -> None:
            if message["type"] == "http.response.start":
                await body.read_rest()
                had = {name.lower() for name, _ in message["headers"]}
                message["headers"] = [
                    *message["headers"],
                    *((k.encode(), v.encode()) for k, v in HEADERS.items() if k.encode() not in had),
                ]
            await send(message)

        try:
            self._check_host(headers.get("host", ""))
            self._check_origin(scope, headers)
            arrival = self._arrival(scope)
            if arrival is None:
                self._check_token(headers)
            most = LARGEST_UPLOAD_BYTES + _ROOM_BYTES if _is_upload(scope) else _LARGEST_BODY_BYTES
            body.bound(most)
            _check_length(headers.get("content-length", "0"), most)
        except Refused as error:
            await answer(error_text(error))(scope, receive, guarded)
            return
        if arrival is not None:
            await arrival(scope, receive, guarded)
            return
        await self.app(scope, body.receive, guarded)

    def _check_host(self, host: str) -> None:
        """Refuse a name that this server has not: a page elsewhere may have had it pointed here."""
        try:
            name = urlsplit(f"//{host}").hostname or ""
        except ValueError:
            name = ""
        if name in LOOPBACK or (name and name == self.host):
            return
        if not is_loopback(self.host) and _is_address(name):
            return
        raise Refused(
            "host",
            "this server does not answer to that name: use the address that it printed when it started",
        )

    def _check_origin(self, scope: Scope, headers: Mapping[str, str]) -> None:
        origin, site = headers.get("origin"), headers.get("sec-fetch-site")
        if origin is not None and urlsplit(origin).netloc != headers.get("host", ""):
            raise Refused(
                "origin", "the request comes from another site's page: open the page of this server"
            )
        if scope["method"] not in _SAFE_METHODS and site not in (None, "same-origin", "none"):
            raise Refused(
                "origin", "the request comes from another site's page: open the page of this server"
            )

    def _arrival(self, scope: Scope) -> Application | None:
        """Take a token out of the address into a cookie, so that it is not shared with the address."""
        given = dict(parse_qsl(scope["query_string"].decode("latin-1"))).get("token")
        if self.token is None or given is None or scope["method"] != "GET" or scope["path"] != "/":
            return None
        if not _same(given, self.token):
            raise Refused(
                "token", "the token is wrong: use the address that the server printed when it started"
            )
        move = RedirectResponse("/", status_code=303)
        move.set_cookie(COOKIE, self.token, httponly=True, samesite="strict", max_age=30 * 86400)
        return move

    def _check_token(self, headers: Mapping[str, str]) -> None:
        if self.token is None:
            return
        bearer = headers.get("authorization", "").removeprefix("Bearer ").strip()
        pairs = (part.strip().partition("=") for part in headers.get("cookie", "").split(";"))
        cookie = next((value for name, _, value in pairs if name == COOKIE), "")
        if not (_same(bearer, self.token) | _same(cookie, self.token)):
            raise Refused(
                "token",
                "this needs the token that the server printed when it started: open its whole address, "
                "or send it as `Authorization: Bearer ...`",
            )


def _is_upload(scope: Scope) -> bool:
    return bool(scope["method"] == "POST" and scope["path"].endswith(("/import", "/files")))


def _check_length(stated: str, most_bytes: int) -> None:
    if stated.isdigit() and int(stated) > most_bytes:
        raise Refused("too-large", f"give at most {most_bytes / 1e6:,.0f} MB at once")


def _is_address(name: str) -> bool:
    try:
        ip_address(name)
    except ValueError:
        return False
    return True


def _same(given: str, token: str) -> bool:
    """Compare in a time that does not tell how much is right."""
    return hmac.compare_digest(given.encode(), token.encode())

"""Who may ask: this machine's own browser, at this desk's own address, and for changes with the run's token.

| attack | what stops it |
|---|---|
| a page elsewhere posts to this desk | Origin, the cookie's SameSite=Strict, JSON's content type |
| a name that turns into 127.0.0.1 (DNS rebinding) | Host |
| a page elsewhere shows this desk's pictures, or frames it | Sec-Fetch-Site, frame-ancestors |
| another user of this machine changes files | the token |
| text of the site that carries scripts | Content-Security-Policy: no inline script runs anywhere |
"""

from __future__ import annotations

import hmac
from http.cookies import CookieError, SimpleCookie
from urllib.parse import parse_qs

from starlette.datastructures import Headers, MutableHeaders
from starlette.responses import RedirectResponse
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from lessonpress.desk.http.responses import RequestError, refused

HEADER = "x-desk-token"
SAFE = ("GET", "HEAD")
HOSTS = ("127.0.0.1", "localhost")

_COMMON = (
    "default-src 'none'; script-src 'self'; font-src 'self'; connect-src 'self'; frame-src 'self'; "
    "base-uri 'none'; form-action 'none'; object-src 'none'; worker-src 'none'; "
)
DESK_POLICY = _COMMON + (
    "style-src 'self'; img-src 'self' blob: data:; media-src 'self' blob:; frame-ancestors 'none'"
)
# pressed pages are shown inside the desk, and play loops that they fetched
PROOF_POLICY = (
    _COMMON + "style-src 'self'; img-src 'self' data:; media-src 'self' blob:; frame-ancestors 'self'"
)
_LETTER = (
    "default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'; "
    "frame-ancestors 'self'"
)
# what pages have by where they lie: letters have their styles within and no scripts at all
POLICIES = {
    "/proof/": PROOF_POLICY,
    "/good/": PROOF_POLICY,
    "/letter/": f"{_LETTER}; img-src 'self'",
    "/letter-without-pictures/": _LETTER,
}


class Guard:
    """Middleware before the whole application. port: the desk's own; token: the run's."""

    def __init__(self, app: ASGIApp, port: int, token: str) -> None:
        self._app, self._token = app, token
        self._hosts = {f"{host}:{port}" for host in HOSTS}
        self.cookie = f"desk-{port}"

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] == "lifespan":
            await self._app(scope, receive, send)
            return
        if scope["type"] != "http":
            return
        headers = Headers(scope=scope)
        send_with_policy = self._with_policy(scope["path"], send)
        given = parse_qs(scope["query_string"].decode("latin-1")).get("token", [""])[0]
        if scope["path"] == "/" and given and headers.get("host") in self._hosts and self._is_token(given):
            await self._opened()(scope, receive, send_with_policy)
            return
        error = self._refusal(scope, headers)
        if error is not None:
            await refused(error)(scope, receive, send_with_policy)
            return
        scope.setdefault("state", {})["may_change"] = self._has_token(headers)
        await self._app(scope, receive, send_with_policy)

    def _opened(self) -> RedirectResponse:
        """The token goes from the address, which is seen and shared, into the cookie."""
        response = RedirectResponse("/", status_code=303)
        response.set_cookie(self.cookie, self._token, httponly=True, samesite="strict", path="/")
        return response

    def _refusal(self, scope: Scope, headers: Headers) -> RequestError | None:
        host = headers.get("host")
        if host not in self._hosts:
            return RequestError(403, "this desk is not called by that name", "open the address it printed")
        foreign = headers.get("sec-fetch-site", "none") in ("cross-site", "same-site")
        if foreign and (scope["path"].startswith("/api/") or scope["method"] not in SAFE):
            return RequestError(403, "a page from elsewhere asked for this", "open the desk by itself")
        if scope["method"] in SAFE:
            return None
        if headers.get("origin", f"http://{host}") != f"http://{host}":
            return RequestError(403, "a page from elsewhere asked for a change", "open the desk by itself")
        if not self._has_token(headers):
            return RequestError(
                403,
                "this browser may look and not change anything",
                "open the address that the desk printed when it started; it holds the token",
            )
        return None

    def _has_token(self, headers: Headers) -> bool:
        return self._is_token(headers.get(HEADER, "")) or self._is_token(self._cookie_in(headers))

    def _cookie_in(self, headers: Headers) -> str:
        try:
            cookies = SimpleCookie(headers.get("cookie", ""))
        except CookieError:
            return ""
        return cookies[self.cookie].value if self.cookie in cookies else ""

    def _is_token(self, given: str) -> bool:
        return hmac.compare_digest(given.encode("utf-8", "replace"), self._token.encode())

    def _with_policy(self, path: str, send: Send) -> Send:
        policy = next((one for start, one in POLICIES.items() if path.startswith(start)), DESK_POLICY)

        async def send_with_policy(message: Message) -> None:
            if message["type"] == "http.response.start":
                headers = MutableHeaders(scope=message)
                headers["Content-Security-Policy"] = policy
                headers["X-Content-Type-Options"] = "nosniff"
                headers["Referrer-Policy"] = "no-referrer"
                headers["Cross-Origin-Resource-Policy"] = "same-origin"
                headers["Cross-Origin-Opener-Policy"] = "same-origin"
                headers.setdefault("Cache-Control", "no-store" if path.startswith("/api/") else "no-cache")
            await send(message)

        return send_with_policy

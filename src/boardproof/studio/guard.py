"""Who is let in: Host, Origin, token and size are judged before any page sees a request.

A page of another site that has its name pointed at this machine is stopped by its Host, one that sends a form by its
Origin, a curious program on this machine by the token. What may only look may not change.
"""

from __future__ import annotations

import secrets
from collections.abc import Mapping
from http.cookies import CookieError, SimpleCookie
from typing import Final, Literal

from starlette.responses import PlainTextResponse
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from boardproof.record import record

__all__ = ["COOKIE", "FREE", "Door", "Guard", "may"]

COOKIE: Final = "boardproof"
FREE: Final = frozenset({"/start", "/enter", "/static/studio.css", "/static/themes.css"})
MOST_BYTES: Final = 3_000_000
MOST_HEADERS, MOST_PATH = 16_000, 1_000
POLICY: Final = (
    "default-src 'none'; script-src 'self'; style-src 'self' 'nonce-{nonce}'; img-src 'self' data:; "
    "media-src 'self' blob:; "
    "connect-src 'self'; frame-src 'self'; base-uri 'none'; form-action 'self'; frame-ancestors 'none'"
)
# A made page brings its own policy; it runs apart from the studio, as if it came from nowhere.
KIT_POLICY: Final = (
    "sandbox allow-scripts; default-src 'none'; img-src data:; media-src data:; style-src 'unsafe-inline'; "
    "script-src 'unsafe-inline'; base-uri 'none'; form-action 'none'; frame-ancestors 'self'"
)
Right = Literal["write", "look"]


@record
class Door:
    """The keys of one run.

    Parameters
    ----------
    write, look : str
        Tokens: who holds the first may change lessons, who holds the second may only look.
    hosts : frozenset of str
        What may stand in Host, port included.
    view_only : bool
        Whether nobody may change anything.
    """

    write: str
    look: str
    hosts: frozenset[str]
    view_only: bool = False

    def right(self, token: str) -> Right | None:
        """What a token allows; None if it is none of ours.

        Parameters
        ----------
        token : str
            As it came.

        Examples
        --------
        >>> Door("w", "l", frozenset()).right("l")
        'look'
        """
        given = token.encode("utf-8", "replace")
        if secrets.compare_digest(given, self.write.encode()):
            return "look" if self.view_only else "write"
        return "look" if secrets.compare_digest(given, self.look.encode()) else None


def may(scope: Mapping[str, object]) -> Right | None:
    """What the guard found a request may do.

    Parameters
    ----------
    scope : mapping
        The request's scope.

    Examples
    --------
    >>> may({"state": {"right": "look"}})
    'look'
    """
    state = scope.get("state")
    found = state.get("right") if isinstance(state, dict) else None
    return found if found in {"write", "look"} else None


class Guard:
    """Stands before the pages.

    Parameters
    ----------
    app : ASGIApp
        The pages.
    door : Door
        Keys and hosts.
    most_bytes : mapping of str to int
        Larger bodies for certain addresses, by their beginning.
    """

    def __init__(self, app: ASGIApp, door: Door, most_bytes: Mapping[str, int] | None = None) -> None:
        """Keep them."""
        self.app, self.door, self.most_bytes = app, door, dict(most_bytes or {})

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Let a request through, or answer it."""
        if scope["type"] == "lifespan":
            await self.app(scope, receive, send)
            return
        nonce = secrets.token_urlsafe(16)
        answer = _with_headers(send, nonce, scope)
        if scope["type"] != "http":
            await send({"type": "websocket.close", "code": 1008})
            return
        refusal = self._refusal(scope)
        if refusal is not None:
            await PlainTextResponse(refusal[1], status_code=refusal[0])(scope, receive, answer)
            return
        scope.setdefault("state", {})["nonce"] = nonce
        await self.app(scope, self._counted(scope, receive), answer)

    def _refusal(self, scope: Scope) -> tuple[int, str] | None:
        many = [(name.decode("latin-1").lower(), value.decode("latin-1")) for name, value in scope["headers"]]
        headers = dict(many)
        path, method = scope["path"], scope["method"]
        if [name for name, _ in many].count("host") != 1 or headers["host"].lower() not in self.door.hosts:
            return 421, "Not this address. Use the link that the studio printed."
        if (
            len(scope.get("raw_path") or path) > MOST_PATH
            or sum(len(n) + len(v) for n, v in many) > MOST_HEADERS
        ):
            return 431, "Too long."
        if method not in {"GET", "HEAD", "POST"}:
            return 405, "Not here."
        origin = headers.get("origin")
        is_foreign = origin is not None and origin.lower() not in {
            f"http://{host}" for host in self.door.hosts
        }
        if is_foreign or (method == "POST" and origin is None):
            return 403, "Not from another page."
        site = headers.get("sec-fetch-site")
        if site not in {None, "same-origin", "none"} and not (method == "GET" and path in FREE):
            return 403, "Not from another page."
        right = self.door.right(_token(headers.get("cookie", "")))
        scope.setdefault("state", {})["right"] = right
        if path in FREE:
            return None if method != "POST" or path == "/enter" else (405, "Not here.")
        if right is None:
            return 401, "Open the studio with the link that it printed when it started."
        return self._of_post(path, headers, right) if method == "POST" else None

    def _of_post(self, path: str, headers: Mapping[str, str], right: Right) -> tuple[int, str] | None:
        if right != "write":
            return 403, "Only looking is allowed here."
        kind = headers.get("content-type", "").partition(";")[0].strip().lower()
        if kind not in {"application/json", "application/octet-stream"}:
            return 415, "Not in this form."
        length = headers.get("content-length", "0")
        if not (length.isascii() and length.isdigit()) or int(length[:12]) > self._most(path):
            return 413, f"Too large: {self._most(path) // 1000} kB at most."
        return None

    def _most(self, path: str) -> int:
        return max([MOST_BYTES, *(most for start, most in self.most_bytes.items() if path.startswith(start))])

    def _counted(self, scope: Scope, receive: Receive) -> Receive:
        """A body that ends when it grows beyond its limit, whatever its length was said to be."""
        left = self._most(scope["path"])

        async def counted() -> Message:
            nonlocal left
            message = await receive()
            left -= len(message.get("body", b""))
            return message if left >= 0 else {"type": "http.disconnect"}

        return counted


def _token(cookie: str) -> str:
    try:
        found = SimpleCookie(cookie).get(COOKIE)
    except CookieError:
        return ""
    return found.value if found else ""


def _with_headers(send: Send, nonce: str, scope: Scope) -> Send:
    async def answer(message: Message) -> None:
        if message["type"] == "http.response.start":
            policy = KIT_POLICY if scope["path"].startswith("/kits/") else POLICY.format(nonce=nonce)
            allow = scope.get("state", {}).get("allow", ())
            sensors = ", ".join(
                f"{name}=({'self' if name in allow else ''})"
                for name in ("camera", "geolocation", "microphone")
            )
            message["headers"] = [
                *message["headers"],
                (b"content-security-policy", policy.encode()),
                (b"x-content-type-options", b"nosniff"),
                (b"referrer-policy", b"no-referrer"),
                (b"cross-origin-opener-policy", b"same-origin"),
                (b"cross-origin-resource-policy", b"same-origin"),
                (b"permissions-policy", sensors.encode()),
                (b"cache-control", b"no-store"),
            ]
        await send(message)

    return answer

"""Who may ask, and what a browser may do with the pages.

The server has no log-in: whoever reaches it may tap. What it keeps out is other sites' pages in
a browser of the shop. They cannot post, as the Origin of a post must be this server, and they
cannot pass for it under a name of their own, as it answers to addresses and to its names alone.
"""

from __future__ import annotations

import ipaddress
import socket
from collections.abc import Awaitable, Callable
from dataclasses import dataclass
from urllib.parse import urlsplit

from fastapi import Request, Response
from fastapi.responses import PlainTextResponse

MOST_BYTES = 64_000
"""A form is never longer."""
_HEADERS = {
    "Content-Security-Policy": (
        "default-src 'none'; style-src 'self'; font-src 'self'; img-src 'self'; "
        "script-src 'self'; connect-src 'self'; "
        "form-action 'self'; base-uri 'none'; frame-ancestors 'none'"
    ),
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "same-origin",
}
Next = Callable[[Request], Awaitable[Response]]


@dataclass(frozen=True)
class Guard:
    """Lets a request in or answers it itself."""

    names: frozenset[str]
    """Names that the server answers to, besides addresses."""

    async def __call__(self, request: Request, call_next: Next) -> Response:
        """The answer to a request, with the headers of every answer."""
        problem = self.problem(request)
        response = (
            PlainTextResponse(problem[1], problem[0]) if problem else await call_next(request)
        )
        is_font = request.url.path.startswith("/fonts/")
        response.headers.update(_HEADERS)
        response.headers["Cache-Control"] = "max-age=86400" if is_font else "no-cache"
        return response

    def problem(self, request: Request) -> tuple[int, str] | None:
        """Why a request is not let in: status and sentence."""
        host = request.headers.get("host", "")
        if not self._is_ours(host):
            return 421, "This server is not called so; use its address, or name it with --host."
        if request.method in ("GET", "HEAD"):
            return None
        origin = urlsplit(request.headers.get("origin", ""))
        if origin.netloc.casefold() != host.casefold():
            return 403, "This did not come from a page of this server, so nothing was changed."
        length = request.headers.get("content-length", "")
        if not length.isdecimal() or int(length) > MOST_BYTES:
            return 413, "This form is too long, so nothing was changed."
        return None

    def _is_ours(self, host: str) -> bool:
        try:
            name = urlsplit(f"//{host}").hostname or ""
            ipaddress.ip_address(name)
        except ValueError:
            return host.rpartition(":")[0].casefold() in self.names or (
                host.casefold() in self.names
            )
        return True


def own_names(host: str) -> frozenset[str]:
    """What a server that listens on `host` may be called."""
    here = socket.gethostname().casefold()
    return frozenset({"localhost", host.casefold(), here, f"{here}.local"})

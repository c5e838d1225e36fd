"""The app in a browser of this machine, by textual-serve: one program for each window, spoken to over the loopback."""

from __future__ import annotations

import logging
import shlex
import subprocess
import sys
from collections.abc import Awaitable, Callable, Sequence
from pathlib import Path
from typing import Final

from aiohttp import web
from textual_serve.server import Server

#: The only address that is listened at: the loopback, which no other machine can reach (RFC 1122, 3.2.1.3).
HOST: Final = "127.0.0.1"

_Handler = Callable[[web.Request], Awaitable[web.StreamResponse]]


class LocalServer(Server):
    """Serves a command's app to browsers of this machine, and to pages of its own alone.

    A page of somebody else that is open in the same browser could otherwise talk to the app, and read the diary.
    """

    def __init__(self, command: Sequence[str], port: int) -> None:
        joined = subprocess.list2cmdline(command) if sys.platform == "win32" else shlex.join(command)
        templates = Path(__file__).parent / "served"
        super().__init__(joined, host=HOST, port=port, title="heapwright", templates_path=templates)
        self.hosts = frozenset({f"{HOST}:{port}", f"localhost:{port}"})

    async def _make_app(self) -> web.Application:
        app = await super()._make_app()
        app.middlewares.append(self._guard())  # type: ignore[arg-type]  # a function is one
        return app

    def _guard(self) -> Callable[[web.Request, _Handler], Awaitable[web.StreamResponse]]:
        origins = {f"http://{host}" for host in self.hosts}
        sockets = " ".join(f"ws://{host}" for host in sorted(self.hosts))
        pages = " ".join(sorted(origins))
        policy = (
            f"default-src {pages}; style-src {pages} 'unsafe-inline'; connect-src {pages} {sockets}; "
            f"img-src {pages} data:"
        )

        @web.middleware
        async def guard(request: web.Request, handler: _Handler) -> web.StreamResponse:
            """Refuse whatever does not come from a page of ours (Host and Origin, RFC 6454), and fetch from nowhere."""
            origin = request.headers.get("Origin")
            if request.host not in self.hosts or (origin is not None and origin not in origins):
                raise web.HTTPForbidden(text="This is for this machine alone.")
            response = await handler(request)
            if not response.prepared:
                response.headers["Content-Security-Policy"] = policy
            return response

        return guard

    def initialize_logging(self) -> None:
        """Only what goes wrong is told."""
        logging.basicConfig(level="WARNING", format="%(message)s")

    async def on_startup(self, app: web.Application) -> None:  # noqa: ARG002  the library's signature
        """Say where it is."""
        print(f"heapwright runs at {self.public_url} on this machine alone. Ctrl+C stops it.", flush=True)

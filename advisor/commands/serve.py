"""`heapwright serve`: the same app in a browser, on this machine."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The options."""
    parser.add_argument("--port", type=int, default=8000, help="where the browser finds it: 1024 to 65535 (8000)")
    parser.add_argument("--household", metavar="FILE", help="begin with a household file, or one of those shipped")
    parser.add_argument("--units", choices=("metric", "us"), default="metric", help="metric (default) or us")


def run(arguments: argparse.Namespace) -> int:
    """Serve until it is interrupted.

    Raises:
        UsageError: the port cannot be.
        HeapwrightError: the libraries for it are missing, or the port is taken.
    """
    from advisor.errors import HeapwrightError, UsageError

    port: int = arguments.port
    if not 1024 <= port <= 65535:
        raise UsageError(f"port {port} cannot be used", hint="say a number from 1024 to 65535")
    command = [sys.executable, "-m", "advisor", "talk", "--units", arguments.units]
    if arguments.household is not None:
        from advisor.commands.told import household_named
        from advisor.counsel.in_use import in_use

        household_named(arguments.household, in_use())  # a fault of it is told here, not in the browser
        command += ["--household", arguments.household]
    if arguments.local is not None:
        command += ["--local", str(Path(arguments.local).absolute())]
    try:
        from advisor.commands.serving import HOST, LocalServer
    except ImportError as error:
        missing = error.name or "textual_serve"
        raise HeapwrightError(
            f"the part for browsers is not installed ({missing} is missing)", hint="pip install 'heapwright[serve]'"
        ) from None
    _check_port(HOST, port)
    LocalServer(command, port).serve()
    return 0


def _check_port(host: str, port: int) -> None:
    """Raises HeapwrightError if nothing can listen there."""
    import socket

    from advisor.errors import HeapwrightError

    with socket.socket(socket.AF_INET, socket.SOCK_STREAM) as tried:
        if sys.platform != "win32":
            tried.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            tried.bind((host, port))
        except OSError as error:
            raise HeapwrightError(
                f"port {port} cannot be used: {error.strerror or error}",
                hint=f"say another, as in --port {port + 1 if port < 65535 else 8000}",
            ) from None

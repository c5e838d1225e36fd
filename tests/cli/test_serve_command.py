"""`heapwright serve`: only to browsers of this machine, only to pages of its own, and a clear word if it cannot."""

from __future__ import annotations

import io
import os
import re
import shutil
import socket
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import redirect_stderr, redirect_stdout
from pathlib import Path

import pytest

from advisor.cli import main

pytest.importorskip("textual_serve", reason="the optional extra is not installed")

from aiohttp import ClientSession, WSMsgType
from aiohttp.test_utils import TestClient, TestServer

from advisor.commands.serving import HOST, LocalServer


def told(*words: str) -> tuple[int, str]:
    out, fault = io.StringIO(), io.StringIO()
    with redirect_stdout(out), redirect_stderr(fault):
        code = main(words)
    assert len(fault.getvalue().splitlines()) == 1
    return code, fault.getvalue()


def free_port() -> int:
    with socket.socket() as found:
        found.bind((HOST, 0))
        return int(found.getsockname()[1])


def listens(port: int) -> bool:
    with socket.socket() as tried:
        return tried.connect_ex((HOST, port)) == 0


@pytest.mark.parametrize("port", ["80", "0", "-1", "65536", "a lot"])
def test_a_port_that_cannot_be(port: str) -> None:
    assert told("serve", "--port", port)[0] == 2


def test_a_port_that_is_taken_is_told_with_another() -> None:
    with socket.socket() as taken:
        taken.bind((HOST, 0))
        taken.listen()
        port = taken.getsockname()[1]
        code, fault = told("serve", "--port", str(port))
    assert code == 1 and f"port {port}" in fault and "--port" in fault.split("(")[1]


def test_without_the_extra_it_says_how_to_get_it(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delitem(sys.modules, "advisor.commands.serving")
    monkeypatch.setitem(sys.modules, "textual_serve.server", None)
    code, fault = told("serve", "--port", str(free_port()))
    assert code == 1 and "pip install 'heapwright[serve]'" in fault


def test_a_household_that_is_not_there_is_told_before_anything_is_served() -> None:
    code, fault = told("serve", "--port", str(free_port()), "--household", "six-hns")
    assert code == 2 and "six-hens" in fault


async def client(command: list[str]) -> TestClient:
    port = free_port()
    found = TestClient(TestServer(await LocalServer(command, port)._make_app(), host=HOST, port=port))
    await found.start_server()
    return found


@pytest.mark.asyncio
async def test_the_page_is_served_here_and_fetches_from_nowhere_else() -> None:
    served = await client(["no-such-program"])
    async with served:
        page = await served.get("/")
        assert page.status == 200
        text = await page.text()
        fetched = re.findall(r'(?:src|href)="([^"]+)"|url\("([^"]+)"\)', text)
        names = [one or other for one, other in fetched]
        assert names and all(name.startswith(("static/", "data:")) for name in names)
        for name in names:
            if name.startswith("static/"):
                assert (await served.get(f"/{name}")).status == 200
        policy = page.headers["Content-Security-Policy"]
        assert set(re.findall(r"(?:https?|wss?)://([^:;\s]+)", policy)) == {HOST, "localhost"}


@pytest.mark.asyncio
@pytest.mark.parametrize(
    ("headers", "status"),
    [
        ({}, 200),
        ({"Origin": "http://evil.example"}, 403),
        ({"Origin": "null"}, 403),
        ({"Host": "evil.example"}, 403),
        ({"Host": f"{HOST}.evil.example:8000"}, 403),
    ],
)
async def test_a_page_of_somebody_else_may_not_talk_to_it(headers: dict[str, str], status: int) -> None:
    served = await client([sys.executable, "-c", "print('__never__')"])
    async with served:
        assert (await served.get("/", headers=headers)).status == status
        if status == 403:
            asked = {"Connection": "Upgrade", "Upgrade": "websocket", "Sec-WebSocket-Version": "13"}
            key = {"Sec-WebSocket-Key": "dGhlIHNhbXBsZSBub25jZQ=="}  # RFC 6455, section 1.2
            assert (await served.get("/ws", headers={**asked, **key, **headers})).status == 403


@pytest.fixture(scope="module")
def running(tmp_path_factory: pytest.TempPathFactory) -> Iterator[int]:
    """The port of a server that runs, and ends in good order."""
    port = free_port()
    command = [sys.executable, "-m", "advisor", "serve", "--port", str(port)]
    home = {**os.environ, "HEAPWRIGHT_HOME": str(tmp_path_factory.mktemp("home"))}
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True, env=home) as server:
        assert server.stdout is not None and str(port) in server.stdout.readline()
        while not listens(port):  # the line is said as it begins to listen
            assert server.poll() is None
            time.sleep(0.02)
        yield port
        server.terminate()
        assert server.wait(timeout=20) == 0


@pytest.mark.asyncio
async def test_the_app_comes_over_the_line_and_hears_what_is_typed(running: int) -> None:
    shown = ""
    async with ClientSession() as session, session.ws_connect(f"ws://{HOST}:{running}/ws?width=100&height=30") as line:
        ends, said = time.monotonic() + 30, False
        while "Heard" not in shown and time.monotonic() < ends:
            message = await line.receive(timeout=30)
            if message.type == WSMsgType.BINARY:
                shown += message.data.decode(errors="replace")
            if "What brings you here" in shown and not said:
                said = True
                await line.send_json(["stdin", "3 sacks dry leaves\r"])
    assert "What brings you here" in shown and "Heard" in shown


BROWSER = shutil.which("chromium") or shutil.which("chromium-browser")


@pytest.mark.skipif(BROWSER is None, reason="no browser here")
def test_a_browser_opens_the_page(running: int, tmp_path: Path) -> None:
    flags = "--headless --no-sandbox --disable-gpu --disable-quic --no-first-run --disable-background-networking "
    flags += "--disable-component-update --disable-sync --dump-dom"
    command = [str(BROWSER), *flags.split(), f"--user-data-dir={tmp_path / 'profile'}", f"http://{HOST}:{running}/"]
    done = subprocess.run(command, capture_output=True, text=True, timeout=60, check=True)
    assert "heapwright is starting" in done.stdout and "textual-terminal" in done.stdout

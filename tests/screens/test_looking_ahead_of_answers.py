"""The desk looks ahead only while nothing is asked of it, and not once it is closed."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from advisor.screens.desk import Desk
from advisor.talk.session import Talk

pytestmark = pytest.mark.asyncio


@pytest.fixture
def steps(monkeypatch) -> list[int]:
    """The steps that were gone, of an endless look ahead."""
    gone: list[int] = []

    def look_ahead(_: Talk) -> Iterator[None]:
        while True:
            gone.append(len(gone))
            yield

    monkeypatch.setattr(Talk, "look_ahead", look_ahead)
    return gone


async def test_it_stops_when_something_is_asked(steps: list[int]) -> None:
    desk = Desk("metric")
    await desk.open()
    await desk.look_ahead(lambda: False)
    assert steps == []
    await desk.look_ahead(lambda: len(steps) < 2)
    assert steps == [0, 1]
    desk.close()


async def test_it_stops_when_the_desk_is_closed(steps: list[int]) -> None:
    desk = Desk("metric")
    await desk.open()

    def closes() -> bool:
        desk.close()
        return True

    await desk.look_ahead(closes)
    assert steps == [0]

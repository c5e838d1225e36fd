"""The one reader and the one writer of files: whatever is named, one line says at once what is wrong."""

from __future__ import annotations

import os
import stat
import threading
import time
from collections.abc import Callable
from pathlib import Path

import pytest

from advisor.commands.told import household_path
from advisor.errors import HouseholdError
from advisor.household.files import read_household
from advisor.knowledge.load import shipped
from advisor.soil_counsel.ground import read_ground
from advisor.text_files import MOST_BYTES, plain_bytes, private_file, private_folder, read_text, read_toml, write_text

KNOWLEDGE = shipped()

READERS: dict[str, Callable[[Path], object]] = {
    "household": lambda path: read_household(path, KNOWLEDGE),
    "ground": lambda path: read_ground(path, KNOWLEDGE),
    "lines": read_text,
}


def refused(reader: Callable[[Path], object], path: Path) -> str:
    """The one line that a file is refused with, within a second."""
    begun = time.monotonic()
    with pytest.raises(HouseholdError) as caught:
        reader(path)
    assert time.monotonic() - begun < 1
    line = str(caught.value)
    assert "\n" not in line and len(line) < 700
    return line


@pytest.mark.parametrize("reader", READERS.values(), ids=READERS)
class TestEveryReader:
    def test_a_pipe_is_not_waited_for(self, reader: Callable[[Path], object], tmp_path: Path) -> None:
        os.mkfifo(tmp_path / "pipe.toml")
        assert "a pipe or a device" in refused(reader, tmp_path / "pipe.toml")

    @pytest.mark.parametrize("device", ["/dev/zero", "/dev/null", "/dev/full"])
    def test_a_device(self, reader: Callable[[Path], object], device: str) -> None:
        assert "a pipe or a device" in refused(reader, Path(device))

    def test_a_folder(self, reader: Callable[[Path], object], tmp_path: Path) -> None:
        assert "this is a folder" in refused(reader, tmp_path)

    def test_too_big(self, reader: Callable[[Path], object], tmp_path: Path) -> None:
        (tmp_path / "big.toml").write_bytes(b"#" * (MOST_BYTES + 1))
        assert "too big" in refused(reader, tmp_path / "big.toml")

    def test_another_encoding(self, reader: Callable[[Path], object], tmp_path: Path) -> None:
        (tmp_path / "old.toml").write_bytes('name = "Zoë"'.encode("latin-1"))
        assert "not a text file (save it as UTF-8)" in refused(reader, tmp_path / "old.toml")
        (tmp_path / "wide.toml").write_bytes('name = "Zoë"'.encode("utf-16"))
        assert "not a text file" in refused(reader, tmp_path / "wide.toml")

    def test_a_link_that_leads_nowhere(self, reader: Callable[[Path], object], tmp_path: Path) -> None:
        (tmp_path / "link.toml").symlink_to(tmp_path / "gone.toml")
        assert "this link leads to no file" in refused(reader, tmp_path / "link.toml")

    def test_a_name_without_end(self, reader: Callable[[Path], object]) -> None:
        assert "cannot be read" in refused(reader, Path("x" * 5000 + ".toml"))

    def test_a_name_nearly_right(self, reader: Callable[[Path], object], tmp_path: Path) -> None:
        (tmp_path / "garden.toml").write_text("")
        assert "garden.toml?" in refused(reader, tmp_path / "gardn.toml")


BOTH = [READERS["household"], READERS["ground"]]


@pytest.mark.parametrize("reader", BOTH, ids=["household", "ground"])
@pytest.mark.parametrize(
    "text",
    [
        ".".join("a" * 10_000) + " = 1",
        ".".join("a" * 499_000),
        ".".join("a" * 40) + " = 1",
        f"[{'.'.join('a' * 10_000)}]",
        f"[[ {' . '.join('a' * 10_000)} ]]",
        "x = { " + ".".join(['"a"'] * 10_000) + " = 1 }",
        f"x = {{ b = 1, {'.'.join(['b'] * 10_000)} = 1 }}",
        "x = " + "[" * 5000 + "]" * 5000,
        "x = " + "[" * 50 + "]" * 50,
        "x = " + "{ a = " * 60 + "1" + " }" * 60,
        "x = " + "{ a = " * 2000 + "1" + " }" * 2000,
    ],
    ids=lambda text: f"{text[:12]}-{len(text)}",
)
def test_what_is_nested_without_end(reader: Callable[[Path], object], text: str, tmp_path: Path) -> None:
    (tmp_path / "deep.toml").write_text(text)
    assert refused(reader, tmp_path / "deep.toml").endswith("deep.toml: not TOML: nested too deeply")


@pytest.mark.parametrize("reader", BOTH, ids=["household", "ground"])
@pytest.mark.parametrize("number", ["9" * 30, f"0x{'f' * 5000}", "9" * 5000, f"[{2**63}]"])
def test_numbers_that_no_other_part_could_even_quote(
    reader: Callable[[Path], object], number: str, tmp_path: Path
) -> None:
    (tmp_path / "big.toml").write_text(f"start = {number}\n")
    assert "not TOML" in refused(reader, tmp_path / "big.toml")


def test_full_stops_in_sentences_are_no_keys(tmp_path: Path) -> None:
    about = "a.b.c.d.e.f.g.h.i.j.k.l.m.n.o.p, and. so. on. and. so. on. and. so. on. and. so. on. and. so."
    (tmp_path / "home.toml").write_text(f'about = "{about}"\nhave = []\n')
    assert read_household(tmp_path / "home.toml", KNOWLEDGE).about == about


@pytest.mark.parametrize("text", ["", "# only a remark\n", 'name = "x"\n', 'name = "x"\nabout = "y"\n'])
@pytest.mark.parametrize("reader", BOTH, ids=["household", "ground"])
def test_a_file_that_tells_nothing(reader: Callable[[Path], object], text: str, tmp_path: Path) -> None:
    (tmp_path / "empty.toml").write_text(text)
    assert "this file says nothing of" in refused(reader, tmp_path / "empty.toml")


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("start = 9999-12-31\nhave = []", "9999-12-31 is too far from today (the years go from 1900 to 2200)"),
        ("start = 0001-01-01\nhave = []", "too far from today"),
        ("start = 2025-10-04T10:00:00\nhave = []", "not a date"),
        ('[place]\nholds = "0.001 L"', "out of all bounds (it lies between 1 and 100000 L)"),
        ("hvae = []", "did you mean 'have'?"),
    ],
)
def test_households_that_cannot_be(text: str, said: str, tmp_path: Path) -> None:
    (tmp_path / "home.toml").write_text(text)
    assert said in refused(READERS["household"], tmp_path / "home.toml")


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("starts = 9999-12-31\n[[bed]]\nname = 'A'", "starts: 9999-12-31 is too far from today"),
        ("[[bed]]\nname = 'A'\ncrops = [[]]", "bed 1, crops: '[]' is none of the words here"),
        ("[[bed]]\nname = 'A'\ncrops = [{}]", "is none of the words here"),
        ("\n".join(f"[[bed]]\nname = {number}" for number in range(30_000)), "more beds than any garden has"),
        ("[[bed]]\nname = ['A']", "bed 1, name: this is a line of text"),
        ("[[bed]]\nname = 'A'\n[[check]]\nkind = 'ring'\nwidth = []", "needs 'width'"),
        (
            "[[bed]]\nname = 'A'\n[[check]]\nkind = 'ring'\nwidth = [[], [[]]]\nwater = '1 L'\nminutes = 3",
            "needs 'width'",
        ),
        ("[[bed]]\nname = 'A'\n[[check]]\nkind = 'hole'\nhours = 5\non = 0001-01-01", "too far from today"),
        ("[[bed]]\nname = 'A'\n[[check]]\nkind = 'ring'\nwidht = 3", "did you mean 'width'?"),
    ],
)
def test_grounds_that_cannot_be(text: str, said: str, tmp_path: Path) -> None:
    (tmp_path / "plot.toml").write_text(text)
    assert said in refused(READERS["ground"], tmp_path / "plot.toml")


def test_a_name_of_the_command_line_is_a_file_or_something_shipped() -> None:
    assert household_path("six-hens").is_file()
    with pytest.raises(HouseholdError, match="did you mean six-hens"):
        household_path("six-hen")
    with pytest.raises(HouseholdError) as caught:
        household_path("x" * 5000)
    assert len(str(caught.value)) < 300


def test_rules_are_read_by_the_same_reader(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "rules.toml")
    with pytest.raises(HouseholdError, match="a pipe or a device"):
        plain_bytes(tmp_path / "rules.toml", "file of rules")


# ---------------------------------------------------------------- writing


def rights(path: Path) -> int:
    """The rights of owner, group and others."""
    return stat.S_IMODE(path.stat().st_mode)


def test_what_is_private_is_the_owners_alone(tmp_path: Path) -> None:
    private_folder(tmp_path / "own")
    write_text(tmp_path / "own" / "heap.toml", "x", private=True)
    private_file(tmp_path / "own" / "diary")
    assert [rights(tmp_path / "own"), rights(tmp_path / "own" / "heap.toml"), rights(tmp_path / "own" / "diary")] == [
        0o700,
        0o600,
        0o600,
    ]
    (tmp_path / "own" / "diary").chmod(0o644)
    private_file(tmp_path / "own" / "diary")
    assert rights(tmp_path / "own" / "diary") == 0o600


def test_what_is_not_private_follows_the_system(tmp_path: Path) -> None:
    before = os.umask(0o022)
    try:
        write_text(tmp_path / "plan.md", "x")
    finally:
        os.umask(before)
    assert rights(tmp_path / "plan.md") == 0o644


def test_many_writers_at_once_leave_one_whole_file(tmp_path: Path) -> None:
    texts = [str(number) * 20_000 for number in range(8)]
    faults: list[Exception] = []

    def write(text: str) -> None:
        try:
            for _ in range(30):
                write_text(tmp_path / "heap.toml", text)
        except OSError as error:
            faults.append(error)

    writers = [threading.Thread(target=write, args=(text,)) for text in texts]
    for writer in writers:
        writer.start()
    for writer in writers:
        writer.join()
    assert faults == []
    assert [path.name for path in tmp_path.iterdir()] == ["heap.toml"]
    assert (tmp_path / "heap.toml").read_text() in texts


def test_a_failure_leaves_what_was_there(tmp_path: Path) -> None:
    (tmp_path / "heap.toml").mkdir()
    with pytest.raises(OSError):
        write_text(tmp_path / "heap.toml", "x")
    assert [path.name for path in tmp_path.iterdir()] == ["heap.toml"]


def test_the_text_comes_with_what_it_holds(tmp_path: Path) -> None:
    (tmp_path / "a.toml").write_bytes(b'\xef\xbb\xbfname = "a\\u001bb"\r\nx = 1\r\n')
    raw, text = read_toml(tmp_path / "a.toml", "file")
    assert raw == {"name": "a b", "x": 1}
    assert text.startswith("name =") and "\r" not in text

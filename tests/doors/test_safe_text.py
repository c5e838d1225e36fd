"""Which signs may leave the program."""

from __future__ import annotations

import io
import json

import pytest
from hostile import SIGNS, WRITING, driving
from hypothesis import given
from hypothesis import strategies as st

from advisor.errors import HeapwrightError
from advisor.papers.markdown import escaped
from advisor.papers.pen import Ink
from advisor.safe_text import SafeStream, json_text, one_line, safe_text


class Terminal(io.StringIO):
    """What a terminal was sent."""

    def isatty(self) -> bool:
        return True


@given(st.text() | st.text(alphabet=SIGNS + "ab \n\t\u2028\u0085\ud800"))
def test_no_text_drives_a_terminal(text: str) -> None:
    assert not driving(safe_text(text))
    assert len(safe_text(text)) == len(text)
    assert not driving(one_line(text, 20)) and "\n" not in one_line(text) and len(one_line(text, 20)) <= 20


@given(st.text(alphabet=st.characters(categories=["L", "M", "N", "P", "S", "Zs"])))
def test_all_writing_stays(text: str) -> None:
    assert safe_text(text) == text


def test_joiners_tags_and_marks_of_direction_are_writing() -> None:
    assert safe_text(WRITING) == WRITING
    assert safe_text("two\nlines\tand a tab") == "two\nlines\tand a tab"


def test_nothing_raw_in_json_nor_in_what_it_reads_back_as() -> None:
    told = {f"key{SIGNS}": [f"a{SIGNS}b", {"deep": (SIGNS, 3, None, True)}], "name": WRITING}
    text = json_text(told)
    assert not driving(text)
    assert not driving(json.loads(text)["key" + safe_text(SIGNS)][0])
    assert json.loads(text)["name"] == WRITING


def test_codes_of_our_own_reach_a_terminal_and_those_of_others_do_not() -> None:
    out = Terminal()
    stream = SafeStream(out)
    stream.write(f"{Ink(True).heading('A')}{Ink(True).grave('B')}\x1b[2J\x1b[8mC{SIGNS}")
    assert out.getvalue().startswith("\x1b[1mA\x1b[0m\x1b[1;33mB\x1b[0m [2J [8mC")
    assert out.getvalue().count("\x1b") == 4


def test_no_code_at_all_reaches_a_pipe() -> None:
    out = io.StringIO()
    SafeStream(out).write(Ink(True).heading("A"))
    assert "\x1b" not in out.getvalue()


def test_every_ink_of_charts_is_a_code_of_our_own() -> None:
    from advisor.papers.charts.text import _CODES

    for code in {*_CODES.values(), *(f"1;{code}" for code in _CODES.values() if code not in ("1", "2"))}:
        out = Terminal()
        SafeStream(out).write(f"\x1b[{code}mx\x1b[0m")
        assert out.getvalue() == f"\x1b[{code}mx\x1b[0m"


def test_what_could_not_be_written_is_remembered() -> None:
    class Full(io.StringIO):
        def write(self, _: str) -> int:
            raise OSError(28, "No space left on device")

    stream = SafeStream(Full())
    with pytest.raises(OSError, match="No space"):
        stream.write("x")
    assert stream.failed is not None


def test_an_error_is_one_safe_line_of_a_length_to_read() -> None:
    line = str(HeapwrightError(f"no '{'x' * 5000}{SIGNS}'", where=f"a\nfile{SIGNS}", hint=f"did{SIGNS}you mean\n'y'?"))
    assert not driving(line) and "\n" not in line
    assert len(line) < 600


def test_markdown_holds_no_such_sign() -> None:
    assert not driving(escaped(f"a{SIGNS}b"))

"""The one place that says which signs may leave the program, on a terminal, in a file, in JSON or on a page.

Words of a person, names of files and what stands in files may hold signs that are no writing: terminal escapes and
other control codes drive the terminal that shows them, and overrides of direction make a line read as something it is
not. Each of those becomes a blank. Writing of every kind stays: accents, emoji with their joiners, letters that run
from right to left, and the plain marks of direction that such writing needs.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Final, TextIO

if TYPE_CHECKING:
    from collections.abc import Iterator

#: The two control codes that are writing (the end of a line and the tab) stay. The rest of C0, the delete sign and C1
#: (ECMA-48, Control Functions for Coded Character Sets, 5th edition, Ecma International 1991, chapter 5), the breaks of
#: lines and paragraphs, the embeddings, overrides and isolates of direction (Unicode Standard Annex 9, The
#: Bidirectional Algorithm, section 2), the signs of annotations, and halves of surrogate pairs, which no encoding can
#: write, go. Code points from memory.
_UNSAFE: Final = re.compile(
    "[\x00-\x08\x0b-\x1f\x7f-\x9f\u2028\u2029\u202a-\u202e\u2066-\u206f\ufff9-\ufffb\ud800-\udfff]"
)

#: The codes that set words off (Ink in papers/pen.py, the inks of charts): they change the look of signs, nothing else.
_OWN_CODES: Final = re.compile(r"(\x1b\[(?:[0-4]|(?:1;)?[39][0-7])?m)")


def safe_text(text: str) -> str:
    """The text with a blank for every sign that is no writing; ends of lines and tabs stay."""
    return _UNSAFE.sub(" ", text)


def one_line(text: str, longest: int = 0) -> str:
    """The same in one line, without excess blanks, cut to `longest` signs if that is not 0."""
    line = " ".join(safe_text(text).split())
    return line if not longest or len(line) <= longest else line[: longest - 1].rstrip() + "…"


def safe_value(value: object) -> object:
    """What TOML or JSON may hold, with every text and every key in it made safe."""
    if isinstance(value, str):
        return safe_text(value)
    if isinstance(value, dict):
        return {safe_text(key) if isinstance(key, str) else key: safe_value(held) for key, held in value.items()}
    if isinstance(value, list | tuple):
        return [safe_value(held) for held in value]
    return value


def json_text(value: object) -> str:
    """A value as JSON, two columns a level, every text in it safe."""
    import json

    return json.dumps(safe_value(value), indent=2, ensure_ascii=False)


class SafeStream:
    """A stream for people to read. What is written to it is made safe, and what could not be written is remembered.

    Attributes:
        failed: why something written to it was lost, if anything was.
    """

    def __init__(self, stream: TextIO) -> None:
        self._stream = stream
        self.failed: OSError | None = None

    def write(self, text: str) -> int:
        """Write a text. Codes of our own inks go to a terminal and nowhere else.

        Raises:
            OSError: it could not be written.
        """
        try:
            self._stream.write("".join(self._parts(text)))
        except OSError as error:
            self.failed = error
            raise
        return len(text)

    def writelines(self, lines: list[str]) -> None:
        """Write one text after the other."""
        for line in lines:
            self.write(line)

    def write_file(self, text: str, line_end: str) -> None:
        """Write the text of a file whose lines end as its standard asks, each line made safe. Raises OSError."""
        try:
            self._stream.write(line_end.join(map(safe_text, text.split(line_end))))
        except OSError as error:
            self.failed = error
            raise

    def flush(self) -> None:
        """Hand on what waits. Raises OSError if that could not be done."""
        try:
            self._stream.flush()
        except OSError as error:
            self.failed = error
            raise

    def __getattr__(self, name: str) -> object:
        return getattr(self._stream, name)

    def _parts(self, text: str) -> Iterator[str]:
        if "\x1b" not in text or not self._stream.isatty():
            yield safe_text(text)
            return
        for number, part in enumerate(_OWN_CODES.split(text)):
            yield part if number % 2 else safe_text(part)

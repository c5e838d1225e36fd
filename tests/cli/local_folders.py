"""Local folders for the tests: that of README.md, and files of one's own beside a place and a source."""

from __future__ import annotations

import re
from pathlib import Path

README = Path(__file__).parents[2] / "README.md"
SOURCES = '[place-club]\ntitle = "Club of a test"\nstanding = "practice"\n'


def from_readme(folder: Path) -> Path:
    """The folder that README.md shows, written out: each file begins with a comment that has its name."""
    block = README.read_text(encoding="utf-8").split("<!-- local -->\n```toml\n")[1].split("```")[0]
    for part in re.split(r"^(?=# \S+\.toml)", block, flags=re.MULTILINE):
        if part.strip():
            name = part.split()[1].rstrip(":")
            place = folder / name
            place.parent.mkdir(parents=True, exist_ok=True)
            place.write_text(part, encoding="utf-8")
    return folder


def folder_of(folder: Path, **files: str) -> Path:
    """A folder with a place, a source and these files, whose names have _ for - and for the slash of materials/."""
    folder.mkdir(parents=True, exist_ok=True)
    for name, text in {"place": 'name = "Testby"\n', "sources": SOURCES, **files}.items():
        place = folder / f"{name.replace('_', '-')}.toml"
        place.write_text(text, encoding="utf-8")
    return folder


def rule(name: str, when: str, then: str, *, stratum: str = "safety", more: str = "") -> str:
    """A file with one rule that cites the local source."""
    return (
        f'stratum = "{stratum}"\n{more}\n[[rule]]\nid = "{name}"\nwhen = [{when}]\nthen = [{then}]\n'
        'because = "Because the people of the place say so."\nsource = "place-club"\nevidence = "tradition"\n'
    )


CAUTION = '[caution.testby]\nsay = "Mind what Testby says of heaps."\nsource = "place-club"\n'

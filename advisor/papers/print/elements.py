"""Elements of a page. Every text and attribute that goes in is made safe and escaped; there is no other way in."""

from __future__ import annotations

import re
from typing import Final
from xml.etree import ElementTree

from advisor.safe_text import one_line, safe_text

#: The blank between a figure and its unit, where a line may not break.
_FIGURE: Final = re.compile(r"(?<=[0-9½¼¾]) (?=(?:°[CF]|[cm]?m[²³]?|ml|L|k?g|t|in|ft|yd³|gal|lb|oz)\b|%)")

Element = ElementTree.Element


def element(tag: str, text: str = "", **attributes: str | float) -> Element:
    """An element with a text; `class_` is the attribute "class", and "_" in a name stands for "-"."""
    found = Element(tag, {_name(key): _value(value) for key, value in attributes.items()})
    found.text = _FIGURE.sub("\u00a0", one_line(text)) or None
    return found


def add(parent: Element, tag: str, text: str = "", **attributes: str | float) -> Element:
    """The same, put at the end of another."""
    found = element(tag, text, **attributes)
    parent.append(found)
    return found


def add_drawn(parent: Element, text: str) -> Element:
    """A text that keeps its lines and columns, put at the end of another element."""
    found = element("pre")
    parent.append(found)
    found.text = safe_text(text)
    return found


def written(root: Element) -> str:
    """The page as HTML. A style sheet must be put in after this, for it is not to be escaped."""
    return ElementTree.tostring(root, encoding="unicode", method="html")


def _name(key: str) -> str:
    return key.rstrip("_").replace("_", "-")


def _value(value: str | float) -> str:
    return one_line(value) if isinstance(value, str) else f"{value:.4g}"

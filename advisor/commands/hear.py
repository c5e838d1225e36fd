"""`heapwright hear`: how a line is read, and which words made it so."""

from __future__ import annotations

import argparse
import json
import sys
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Iterator

    from advisor.hearing.shapes import Fact, Heard
    from advisor.knowledge.base import Knowledge


#: A material is named as being there by what is told and by what is asked of it; not by what is denied or supposed.
_MENTIONED = frozenset({"told", "asked", "past"})


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The options."""
    parser.add_argument("line", nargs="?", help='what somebody says: "it stinks of ammonia since I added the grass"')
    parser.add_argument("--after", metavar="QUESTION", default="", help="the question that stands open")
    parser.add_argument("--option", metavar="WORDS", action="append", default=[], help="an answer that it offers")
    parser.add_argument("--lines", metavar="FILE", help="many lines: a JSON object a line with id, say and context")
    parser.add_argument("--json", action="store_true", help="a JSON object for each line")


def run(arguments: argparse.Namespace) -> int:
    """Print how a line is read, or many."""
    from advisor.counsel.in_use import in_use
    from advisor.errors import UsageError
    from advisor.hearing.hear import hear
    from advisor.hearing.shapes import Asked

    if (arguments.line is None) == (arguments.lines is None):
        raise UsageError("say one line, or name a file with --lines", hint="heapwright hear 'my heap stinks'")
    knowledge = in_use()
    if arguments.lines is not None:
        for number, say, asked in _lines(arguments.lines):
            print(json.dumps({"id": number, **as_data(hear(say, knowledge, asked))}, ensure_ascii=False))
        return 0
    heard = hear(arguments.line, knowledge, Asked(arguments.after, tuple(arguments.option)))
    if arguments.json:
        print(json.dumps({"id": "", **as_data(heard)}, ensure_ascii=False))
        return 0
    for line in explained(heard, knowledge):
        sys.stdout.write(f"{line}\n")
    return 0


def _lines(name: str) -> Iterator[tuple[str, str, Any]]:
    """Id, words and open question of each line of a file.

    Raises:
        UsageError: the file cannot be read, or a line of it is not such an object.
    """
    from pathlib import Path

    from advisor.errors import UsageError
    from advisor.hearing.shapes import Asked

    try:
        lines = Path(name).read_text(encoding="utf-8").splitlines()
    except (OSError, UnicodeDecodeError) as error:
        raise UsageError(f"cannot be read: {error}", where=name) from None
    for number, line in enumerate(lines, 1):
        if not line.strip():
            continue
        try:
            raw = json.loads(line)
            context = raw.get("context") or {}
            asked = Asked(context.get("question", ""), tuple(context.get("options", ())))
            yield str(raw["id"]), str(raw["say"]), asked
        except (ValueError, KeyError, AttributeError, TypeError):
            hint = 'write {"id": "1", "say": "my heap stinks", "context": null}'
            raise UsageError(f"line {number} is no such object", where=name, hint=hint) from None


def as_data(heard: Heard) -> dict[str, Any]:
    """How a line is read, as plain data."""
    return {
        "acts": list(heard.acts),
        "about": heard.about,
        "told": [_fact(fact) for fact in heard.facts if fact.stance == "told"],
        "denied": [_fact(fact) for fact in heard.facts if fact.stance != "told"],
        "materials": [
            {"material": one.ids[0] if one.ids else "", "said": one.said}
            for one in heard.materials
            if one.stance in _MENTIONED
        ],
        "dangers": [{"danger": one.name, "kind": one.kind, "said": one.said} for one in heard.dangers],
        "feared": [{"danger": one.name, "kind": one.kind, "said": one.said} for one in heard.feared],
        "options": list(heard.options),
        "asked": [{"act": one.act, "topic": one.topic, "said": one.said} for one in heard.asked],
        "unknown": heard.unknown,
        "yes": heard.yes,
        "unread": list(heard.unread),
        "guesses": [],  # a slip of the pen is put right only where it is so near that nobody need be asked
    }


def _fact(fact: Fact) -> dict[str, str]:
    return {"fact": fact.name, "value": fact.value, "said": fact.said, "stance": fact.stance}


def explained(heard: Heard, knowledge: Knowledge) -> Iterator[str]:
    """How a line is read, for a maintainer: the acts, each fact with the words that made it, each clause."""
    yield f"It is: {', '.join(heard.acts) or 'nothing that is known'}. About: {heard.about}."
    for danger in heard.dangers:
        yield f"  danger    {danger.name} ({danger.kind}): “{danger.said}”"
    for danger in heard.feared:
        yield f"  feared    {danger.name} ({danger.kind}): “{danger.said}”"
    for fact in heard.facts:
        because = f", made so by “{fact.because}”" if fact.because else ""
        of = f" of the {fact.about}" if fact.about else ""
        concept = f", concept {fact.concept}" if fact.concept else ""
        yield f"  {fact.stance:<9} {fact.name} = {fact.value}{of}: “{fact.said}”{concept}{because}"
    for one in heard.materials:
        names = " or ".join(knowledge.materials[name].name for name in one.ids[:4])
        also = f", {', '.join(one.qualifiers)}" if one.qualifiers else ""
        yield f"  {one.stance:<9} material {names}{also}: “{one.said}”"
    for question in heard.asked:
        yield f"  asks      {question.act} {question.topic or '(no topic)'}: “{question.said}”"
    if heard.unknown:
        yield "  answers   does not know"
    if heard.options:
        yield f"  picks option {', '.join(map(str, heard.options))}"
    for piece in heard.pieces:
        asks = f" asks {piece.asks};" if piece.asks else ""
        forms = f" {'; '.join(piece.forms)}" if piece.forms else ""
        yield f"  clause    “{piece.said}”{asks}{forms}"
    if heard.unread:
        yield f"  unread    {', '.join(heard.unread)}"

"""What a line of free text means.

The text is cut into words and sentences; each stretch of a sentence is given every reading that the lexicon, the
materials and the measures allow; of these, those stand that together account for most of it; and what no reading
accounts for is handed back as lost.
"""

from __future__ import annotations

from dataclasses import replace

from advisor.household.tokens import shown
from advisor.knowledge.base import Knowledge
from advisor.talk.intents import Ask, Context, HaveNot, Intent, Less, Lost, Told, Understood, WhatIf
from advisor.talk.reading.choosing import choose
from advisor.talk.reading.lexicon import lexicon
from advisor.talk.reading.line import LONGEST, Line, Sentence, cut
from advisor.talk.reading.losing import as_questions
from advisor.talk.reading.meaning import Meaner
from advisor.talk.reading.settling import settled
from advisor.talk.reading.things import Reader

_SHOWN_OF_A_PASTE = 60
_NOTHING_ASKED = Context()


def understand(text: str, knowledge: Knowledge, context: Context = _NOTHING_ASKED) -> Understood:
    """Everything a line of text means, in order.

    Every word of it lies in the span of some intent, but for the small talk of rules/phrases.toml. No text is
    refused: what cannot be read is `Lost`, and so is what goes beyond the first 2,000 characters.

    Args:
        text: what was typed, as it was typed.
        knowledge: the rule base.
        context: what the talk expects just now.

    Raises:
        RuleBaseError: rules/phrases.toml is not in order.
    """
    words = lexicon(knowledge)
    read = text if len(text) <= LONGEST else text[: _last_break(text)]
    line = cut(read, words)
    reader = Reader(line, knowledge, words, context)
    offered = _offered(reader)
    found = [intent for sentence in line.sentences for intent in _sentence(reader, sentence)] if not offered else []
    intents = offered or settled(found, reader)
    if not intents:
        intents = _unspoken(line)
    intents = [_as_typed(intent, line) for intent in intents]
    if len(read) < len(text):
        intents.append(Lost(shown(text[len(read) :], _SHOWN_OF_A_PASTE), (len(read), len(text))))
    return Understood(text, tuple(intents))


def _last_break(text: str) -> int:
    """Where to stop reading a long text: behind a word, if there is one to stop behind."""
    for place in range(LONGEST, LONGEST // 2, -1):
        if text[place].isspace():
            return place
    return LONGEST


def _offered(reader: Reader) -> list[Intent]:
    """The answer, if the text is one of those offered, word for word."""
    attribute, line = reader.context.attribute, reader.line
    words = [word for word in line.words if not word.mark]
    value = reader.lexicon.offered.get(attribute, {}).get(tuple(word.form for word in words))
    return [Told(attribute, (value,), (words[0].start, words[-1].end))] if value is not None else []


def _sentence(reader: Reader, sentence: Sentence) -> list[Intent]:
    found = Meaner(reader, lambda start, end: _inner(reader, start, end)).sentence(choose(reader, sentence))
    if not sentence.asks or not found:
        return found
    if all(isinstance(intent, HaveNot | Less) for intent in found):  # "and without the grass?"
        return [WhatIf(tuple(found), reader.line.span(sentence.start, sentence.end))]
    asked = as_questions(found)
    return asked if asked is not None else found


def _inner(reader: Reader, start: int, end: int) -> tuple[Intent, ...]:
    """What is supposed in a what-if, which answers no question."""
    context = replace(reader.context, attribute="", options=0)
    supposing = replace(reader, context=context, supposing=True)
    found = settled(_sentence(supposing, Sentence(start, end, False)), supposing)
    reader.look_ups = supposing.look_ups
    return tuple(found)


def _unspoken(line: Line) -> list[Intent]:
    """What a text without words means: a question mark asks for help, other signs are lost, small talk is nothing."""
    signs = line.text.strip()
    if not signs or any(not word.mark for word in line.words):
        return []
    place = line.text.index(signs), line.text.index(signs) + len(signs)
    if set(signs) <= set("?？؟"):
        return [Ask("help", place)]
    return [Lost(shown(signs, _SHOWN_OF_A_PASTE), place)]


def _as_typed(intent: Intent, line: Line) -> Intent:
    """The same, with its place in the text as it was typed."""
    if line.places is None:
        return intent
    first, last = intent.span
    moved = replace(intent, span=(line.places[first], line.places[last - 1] + 1))
    if isinstance(moved, WhatIf):
        return replace(moved, changes=tuple(_as_typed(change, line) for change in moved.changes))
    return moved

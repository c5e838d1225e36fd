"""Signs out of words: "it stinks of ammonia and is slimy, no flies" read with rules/sign-words.toml.

Endings and little words do not matter, the longest phrase wins, and what is denied ("not wet", "no flies") does not
count unless the denial is itself a phrase of the list ("no smell", "not heating"). Words that are not understood are
handed back, never guessed at; a misspelt one is taken for the nearest word only if it is all but that word.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field

from rapidfuzz import fuzz, process

from advisor.knowledge.base import Knowledge
from advisor.knowledge.conditions import Value

Signs = Mapping[str, tuple[Value, ...]]

_WORD = re.compile(r"[a-z]+(?:['’][a-z]+)?|\d+(?:\.\d+)?|[.;:!?,()°/]")


def _set_of(words: str) -> frozenset[str]:
    return frozenset(words.split())


#: Dropped wherever they stand.
_DROPPED = _set_of(
    "the a an of quite really so that this these those rather some also my our your their "
    "it its it's  pretty totally completely "
)
#: Passed over between the words of a phrase, and read where a phrase has them.
_PASSED = _set_of(
    "very just all is are was were am has have had be been being in on at to and or with from for by as i we they you "
    "he she lot do does  did get gets getting got can could will would may might should if then than but "
    "about me us them there only out up  down strongly slightly like when what which how why "
    "seem seems seemed appear appears "
)
_DENIALS = frozenset({"no", "not", "never", "without", "hardly"})
_DENIAL_REACHES = 2
_BREAKS = frozenset(".;:!?,()")
_IRREGULAR = {
    "leaves": "leaf",
    "mice": "mous",
    "flies": "fly",
    "froze": "frozen",
    "freezes": "frozen",
    "died": "die",
    "cooled": "cooled",
    "droppings": "droppings",
    "dying": "die",
}
#: Words that say nothing about a trouble, so it is no loss that they have no place.
_IDLE = _set_of(
    "compost composting composter pile heap garden gardener material materials stuff thing things now "
    "still here much  many more most less few little big large small good bad fine problem trouble wrong "
    "ok help please think know want  find found see seen notice noticed inside outside middle top bottom "
    "side sides part parts all any every each other  after before over under again always often ever yet "
    "only even because while since until make makes made put add  added adding use used using keep keeps "
    "kept start started time times day days week weeks month year into out up  down off through around "
    "near between like mostly one two three four five six ten first last new old go goes going  went come "
    "comes came left leave enough too no not never without own whole smell smells smelled smelt smelling "
    "look looks looking feel feels seem seems quite really having  anything nothing something someone "
    "people lots area place says said told going "
)
_NEAR = 90
_SHORTEST_GUESSED = 4
#: Where several kinds are named ("the pile in my worm bin"), the one that says most counts.
_METHODS = ("fermented-bucket", "worm-bin", "tumbler", "leaf-heap", "trench", "windrow", "bin", "open-heap")
#: A word said in general ("it stinks") says nothing more once it is told of what.
GENERAL = {
    "smell": ("foul", {"ammonia", "rotten-egg", "sour", "rancid", "putrid", "musty"}),
    "looks": ("mould", {"white-mould", "coloured-mould", "slime-mould", "white-threads", "mushrooms"}),
}
#: A number followed by one of these is a reading: 131 F, 55 °C, 150 degrees.
_COLDEST, _HOTTEST, _HOT_FROM = -40.0, 120.0, 66.0
#: A fall by so many °C is more than two readings of the same heap differ by.
_FALL = 8.0
_UNDER = frozenset({"below", "under", "less"})
#: "60 cm high", "4 feet across": a size, in metres. A heap is small below about 80 cm (the lowest published side of a
#: heap that heats, smallest-hot-side-m) and large above about 2 m (from memory of extension advice on fire).
_METRES = {"cm": 0.01, "m": 1.0, "metre": 1.0, "metres": 1.0, "meter": 1.0, "meters": 1.0, "ft": 0.3048, "foot": 0.3048}
_METRES |= {"feet": 0.3048, "inches": 0.0254, "inch": 0.0254, "yard": 0.9144, "yards": 0.9144}
_ACROSS = frozenset({"high", "tall", "wide", "across", "each", "deep", "square"})
_SMALL_BELOW_M, _LARGE_ABOVE_M = 0.8, 2.0
_FAHRENHEIT, _CELSIUS = frozenset({"f", "fahrenheit"}), frozenset({"c", "celsius", "centigrade"})
_DEGREES = frozenset({"°", "degree", "degrees", "deg"})
#: "150 degrees" and no more is Fahrenheit: no compost is so hot in °C. "60 degrees" may be either, and is left alone.
_NO_CELSIUS_ABOVE = 90.0
#: "It was 150 F and is down to 90": the second number is on the scale of the first.
_BEFORE_A_BARE_READING, _AFTER_A_BARE_READING = (
    frozenset({"to", "at", "now"}),
    frozenset({"and", "now", "but", "today"}),
)


@dataclass(frozen=True, slots=True)
class Read:
    """A sign and the words it was read from."""

    attribute: str
    value: Value
    said: str


@dataclass(frozen=True, slots=True)
class _Token:
    text: str
    stem: str
    start: int
    end: int


@dataclass(slots=True)
class _Node:
    next: dict[str, _Node] = field(default_factory=dict)
    means: list[tuple[str, str]] = field(default_factory=list)


@dataclass(frozen=True, slots=True)
class Lexicon:
    """The phrases of rules/sign-words.toml, ready to be looked up."""

    root: _Node
    stems: frozenset[str]
    guesses: tuple[str, ...]  # the stems again, in order, for the misspelt

    @classmethod
    def of(cls, knowledge: Knowledge) -> Lexicon:
        """Put the phrases together; `lexicon_of` keeps what was put together."""
        root, stems = _Node(), set()
        for attribute, words in knowledge.sign_words.items():
            for word, phrases in words.items():
                for phrase in phrases:
                    node = root
                    for token in _tokens(phrase):
                        stems.add(token.stem)
                        node = node.next.setdefault(token.stem, _Node())
                    if node is not root and (attribute, word) not in node.means:
                        node.means.append((attribute, word))
        return cls(root, frozenset(stems), tuple(sorted(stems)))


_LEXICONS: dict[int, tuple[Knowledge, Lexicon]] = {}


def lexicon_of(knowledge: Knowledge) -> Lexicon:
    """The phrases of a rule base, put together once."""
    kept = _LEXICONS.get(id(knowledge))
    if kept is None or kept[0] is not knowledge:
        kept = _LEXICONS[id(knowledge)] = (knowledge, Lexicon.of(knowledge))
    return kept[1]


def read_signs(text: str, knowledge: Knowledge) -> tuple[dict[str, tuple[Value, ...]], tuple[str, ...]]:
    """The signs in a text, by attribute of `sign`, and the words that found no place.

    An attribute of which only one value can hold gets the first one that was named.
    """
    read, unplaced = signs_told(text, knowledge)
    return as_signs(read, knowledge), unplaced


def signs_told(
    text: str, knowledge: Knowledge, lexicon: Lexicon | None = None
) -> tuple[tuple[Read, ...], tuple[str, ...]]:
    """The same, each sign with the words it was read from."""
    lexicon = lexicon or lexicon_of(knowledge)
    tokens = [_mended(token, lexicon) for token in _tokens(text)]
    read: list[Read] = []
    unplaced: list[str] = []
    place = settled = 0  # a denial before `settled` belongs to a phrase that was read already
    while place < len(tokens):
        reading = _reading(tokens, place) or _bare_reading(tokens, place, read)
        if reading is not None:
            read.append(reading)
            place += 2  # beyond a bare number this passes over a stop or a little word
            continue
        means, length = _longest(tokens, place, lexicon)
        if means and (means[0][0] == "method" or not _denied(tokens, place, settled)):
            said = text[tokens[place].start : tokens[place + length - 1].end]
            read += [Read(attribute, word, said) for attribute, word in means]
            settled = place + length
        elif not means and _is_lost(tokens[place]):
            unplaced.append(tokens[place].text)
        place += max(1, length)
    return tuple(_kept(_cooling(read), knowledge)), tuple(dict.fromkeys(unplaced))


def as_signs(read: Iterable[Read], knowledge: Knowledge) -> dict[str, tuple[Value, ...]]:
    """Signs by attribute."""
    found: dict[str, tuple[Value, ...]] = {}
    for one in read:
        before = found.get(one.attribute, ())
        if one.value not in before:
            found[one.attribute] = (*before, one.value)
    return {name: found[name] for name in knowledge.kinds["sign"].attributes if name in found}


def _cooling(read: list[Read]) -> list[Read]:
    """Of several readings the last one counts; if it is much lower than the first, the heap was hot before."""
    readings = [one for one in read if one.attribute == "degrees"]
    if len(readings) < 2:
        return read
    first, last = float(readings[0].value), float(readings[-1].value)
    rest = [one for one in read if one.attribute != "degrees"]
    fell = [Read("heat_before", "was-hot", readings[0].said)] if first - last > _FALL else []
    return [*rest, readings[-1], *fell]


def _kept(read: list[Read], knowledge: Knowledge) -> Iterator[Read]:
    """Without what is told twice, and with one value only where only one can hold."""
    attributes = knowledge.kinds["sign"].attributes
    named = {str(one.value) for one in read if one.attribute == "method"}
    method = next((name for name in _METHODS if name in named), None)
    told = {(one.attribute, one.value) for one in read}
    general = {(name, word) for name, (word, others) in GENERAL.items() if any((name, one) in told for one in others)}
    seen: set[tuple[str, Value]] = set(general)
    single: set[str] = set()
    for one in read:
        if (one.attribute, one.value) in seen or (one.attribute == "method" and one.value != method):
            continue
        if not attributes[one.attribute].many:
            if one.attribute in single:
                continue
            single.add(one.attribute)
        seen.add((one.attribute, one.value))
        yield one


def _tokens(text: str) -> list[_Token]:
    found = []
    for match in _WORD.finditer(text.casefold().replace("’", "'")):
        word = match.group()
        if word not in _DROPPED:
            found.append(_Token(word, _stem(word), match.start(), match.end()))
    return found


def _stem(word: str) -> str:
    if word.endswith("n't"):
        return "not"
    if word in _IRREGULAR:
        return _IRREGULAR[word]
    word = word.removesuffix("'s")
    if word.endswith("ies") and len(word) > 4:
        word = word[:-3] + "y"
    elif word.endswith(("ches", "shes", "sses", "xes")):
        word = word[:-2]
    elif word.endswith("s") and not word.endswith(("ss", "us", "is")) and len(word) > 3:
        word = word[:-1]
    for ending, least in (("ing", 6), ("ed", 5)):
        if word.endswith(ending) and len(word) >= least:
            word = word.removesuffix(ending)
            if len(word) > 3 and word[-1] == word[-2] and word[-1] not in "ls":
                word = word[:-1]
            break
    return word.removesuffix("e") if len(word) > 4 else word


def _mended(token: _Token, lexicon: Lexicon) -> _Token:
    known = token.stem in lexicon.stems or token.text in _IDLE | _PASSED | _BREAKS
    if known or len(token.text) < _SHORTEST_GUESSED or not token.text[0].isalpha():
        return token
    near = process.extractOne(token.stem, lexicon.guesses, scorer=fuzz.ratio, score_cutoff=_NEAR)
    return _Token(token.text, near[0], token.start, token.end) if near else token


def _longest(tokens: list[_Token], start: int, lexicon: Lexicon) -> tuple[list[tuple[str, str]], int]:
    """What the longest phrase that begins here means, and how many tokens it takes."""
    best: tuple[int, int, list[tuple[str, str]]] = (0, 0, [])
    waiting = [(lexicon.root, start, 0)]
    while waiting:
        node, place, words = waiting.pop()
        if node.means and words > best[0]:
            best = (words, place - start, node.means)
        if place == len(tokens):
            continue
        following = node.next.get(tokens[place].stem)
        if following is not None:
            waiting.append((following, place + 1, words + 1))
        if words and tokens[place].text in _PASSED:
            waiting.append((node, place + 1, words))
    return best[2], best[1]


def _denied(tokens: list[_Token], place: int, settled: int) -> bool:
    reach = _DENIAL_REACHES
    for token in reversed(tokens[settled:place]):
        if token.stem in _DENIALS:
            return True
        if token.text in _BREAKS or reach == 0:
            return False
        reach -= token.text not in _PASSED
    return False


def _reading(tokens: list[_Token], place: int) -> Read | None:
    """A thermometer reading, from "131 F" or "55 °C"; "below 55 C" says that it is not hot, and no more."""
    if not tokens[place].text[0].isdigit():
        return None
    behind = [token.text for token in tokens[place + 1 : place + 3]]
    after = [text for text in behind if text not in _DEGREES]
    unit = after[0] if after else ""
    value = float(tokens[place].text)
    if behind and behind[0] in _DEGREES and unit not in _CELSIUS and value > _NO_CELSIUS_ABOVE:
        unit = "f"
    if unit in _METRES and {token.text for token in tokens[place + 2 : place + 4]} & _ACROSS:
        metres = value * _METRES[unit]
        size = "small" if metres < _SMALL_BELOW_M else "large" if metres > _LARGE_ABOVE_M else "middling"
        return Read("size", size, f"{tokens[place].text} {unit}")
    if unit in _FAHRENHEIT:
        value = (value - 32) * 5 / 9
    elif unit not in _CELSIUS:
        return None
    if not _COLDEST <= value <= _HOTTEST:
        return None
    said = f"{tokens[place].text} {unit[0].upper()}"
    if any(token.text in _UNDER for token in tokens[max(0, place - 5) : place]):
        return Read("warmth", "lukewarm", f"below {said}") if value <= _HOT_FROM else None
    return Read("degrees", round(value, 1), said)


def _bare_reading(tokens: list[_Token], place: int, read: list[Read]) -> Read | None:
    """A number after a reading, with no scale of its own: "it was 150 F and is down to 90"."""
    before = next((one for one in reversed(read) if one.attribute == "degrees"), None)
    following = tokens[place + 1].text if place + 1 < len(tokens) else "."
    if before is None or place == 0 or not tokens[place].text[0].isdigit():
        return None
    if tokens[place - 1].text not in _BEFORE_A_BARE_READING or following not in _BREAKS | _AFTER_A_BARE_READING:
        return None
    scale = _Token(before.said[-1].casefold(), before.said[-1].casefold(), 0, 0)
    return _reading([tokens[place], scale], 0)


def _is_lost(token: _Token) -> bool:
    return token.text[0].isalpha() and len(token.text) > 3 and token.text not in _IDLE | _PASSED

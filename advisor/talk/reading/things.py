"""Materials by name, in a line: "dry leaves", "the citrus or bread", "manure", which may be one of many."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from advisor.household.names import Index, find_material, materials_index, measures_index
from advisor.household.quantities import Amount, amount_at, measure_at, uncounted_at
from advisor.household.words import TIMES
from advisor.knowledge.base import Knowledge
from advisor.talk.intents import Context
from advisor.talk.reading.lexicon import Lexicon
from advisor.talk.reading.line import Line
from advisor.talk.reading.phrases import Group

_DETERMINERS = frozenset(
    {"the", "my", "our", "your", "his", "her", "their", "any", "some", "a", "an", "these", "those", "this", "that"}
    | {"of", "all"}
)
_JOINERS = frozenset({",", "or", "and", "nor", "&", "/", "plus"})
_RELATIVES = frozenset({"that", "which", "is", "are", "they", "but", "all", "still", "so", "very", "quite", ","})
_MOST_ADJECTIVES = 3
_MOST_UNKNOWN = 5  # words of a name that is none of ours
_MOST_LISTED = 12  # names in one list
_LOOK_UPS = 4  # slow searches for a name in one line; a longer text is not worth more


@dataclass(frozen=True, slots=True)
class Thing:
    """A name in a line, from one word up to another, and the materials it may stand for.

    Attributes:
        ids: one if the name is sharp, several if it is not, none if it is none of ours.
        group: the word for many of them that was used ("manure").
        name_start: the word at which the name itself begins, behind "the" and "some".
        counted: an amount stood before it.
        sure: false for a name that was only found by likeness.
    """

    start: int
    end: int
    ids: tuple[str, ...]
    name_start: int
    group: Group | None = None
    sure: bool = True
    counted: bool = False
    nearest: tuple[str, ...] = ()


@dataclass
class Reader:
    """A line with all that is needed to read it."""

    line: Line
    knowledge: Knowledge
    lexicon: Lexicon
    context: Context
    latest: str = ""  # the material last named in this line
    look_ups: int = _LOOK_UPS
    supposing: bool = False  # it is read as what may be, so that a question in it is none
    _things: dict[int, Thing | None] = field(default_factory=dict)
    _amounts: dict[int, tuple[Amount, int] | None] = field(default_factory=dict)

    @property
    def materials(self) -> Index:
        """The names of all materials."""
        return materials_index(self.knowledge)

    def is_filler(self, at: int) -> bool:
        """Whether the word is small talk."""
        return self.line.forms[at] in self.lexicon.small_talk and not self.line.words[at].slip

    def amount(self, at: int) -> tuple[Amount, int] | None:
        """The amount that begins at a word, counted or not ("bucket of grounds"), with the word after it."""
        if at not in self._amounts:
            self._amounts[at] = self._amount(at)
        return self._amounts[at]

    def _amount(self, at: int) -> tuple[Amount, int] | None:
        token = self.line.words[at].token
        tokens = self.line.tokens
        if at > 0 and self.line.words[at - 1].token == token:
            return None
        if self._is_glued(token):
            return None
        measures = measures_index(self.knowledge)
        found = amount_at(tokens, token, measures)
        if found is None and measure_at(tokens, token, measures) is not None:
            found = uncounted_at(tokens, token, measures)
        return (found, self.line.word_of[found.end]) if found is not None else None

    def takes_several(self, name: str) -> bool:
        """Whether several answers to a question may hold at once."""
        kind, _, attribute = name.partition(".")
        return self.knowledge.kinds[kind].attributes[attribute].many

    def _is_glued(self, token: int) -> bool:
        """Whether a number hangs on a word, so that it is none by itself: "r2", "1e400", but not "10x40"."""
        before, number = self.line.tokens[token - 1], self.line.tokens[token]
        hangs = token > 0 and number.kind == "number" and before.kind == "word" and before.end == number.start
        return hangs and before.key not in TIMES

    # ------------------------------------------------------------ names

    def thing(self, at: int) -> Thing | None:
        """The material named from a word on, if it is one of ours."""
        if at not in self._things:
            self._things[at] = self._thing(at)
        return self._things[at]

    def _thing(self, at: int) -> Thing | None:
        words = self.line.words
        start = at
        while start < len(words) and words[start].form in _DETERMINERS:
            start += 1
        for name_start in range(start, min(start + _MOST_ADJECTIVES, len(words))):
            found = self._exact(at, name_start)
            if found is not None:
                return self._with_state(found)
            if words[name_start].form not in self.lexicon.idle:
                return None
        return None

    def _exact(self, at: int, name_start: int) -> Thing | None:
        words = self.line.words
        index = self.materials
        key: list[str] = []
        best: Thing | None = None
        for end in range(name_start + 1, min(name_start + index.longest, len(words)) + 1):
            word = words[end - 1]
            if word.mark:
                break
            key.append(word.key)
            group = self.lexicon.groups.get(tuple(key))
            ids = index.exact.get(tuple(key)) or index.squashed.get("".join(key))
            if group is not None:
                best = Thing(at, end, self.members(group), name_start, group)
            elif ids:
                best = Thing(at, end, ids, name_start)
        return best

    def _with_state(self, thing: Thing) -> Thing:
        """ "Leaves that are soaking wet" are wet leaves, if there is such a name."""
        words = self.line.words
        at = thing.end
        while at < len(words) and words[at].form in _RELATIVES and at < thing.end + 3:
            at += 1
        if at >= len(words) or words[at].form not in self.lexicon.states:
            return thing
        name = tuple(word.key for word in words[thing.name_start : thing.end])
        for end in range(at + 1, min(at + 3, len(words)) + 1):
            if words[end - 1].form not in self.lexicon.states:
                break
            ids = self.materials.exact.get((words[end - 1].key, *name))
            if ids:
                return Thing(thing.start, end, ids, thing.name_start)
        return thing

    def members(self, group: Group) -> tuple[str, ...]:
        """The materials of a group, those first that are offered as readings."""
        others = (
            id_
            for id_, material in self.knowledge.materials.items()
            if (group.trait and group.trait in material.traits) or (group.role and group.role == material.role)
        )
        return tuple(dict.fromkeys((*group.readings, *others)))

    def qualified(self, at: int) -> Thing | None:
        """A name of ours behind words that may change what it is: "sopping wet leaves"."""
        for start in range(at + 1, at + 1 + _MOST_ADJECTIVES):
            if start >= len(self.line.words) or not self.is_plain(start - 1):
                return None
            found = self.thing(start)
            if found is not None and found.name_start == start:
                return self.searched(at, found.end)
        return None

    def is_plain(self, at: int) -> bool:
        """Whether a word may be part of an unknown name."""
        word = self.line.words[at]
        return not (word.mark or word.form in self.lexicon.parting or self.is_filler(at))

    def unknown(self, at: int) -> list[Thing]:
        """Stretches that may be a name that is none of ours, the longest first."""
        words = self.line.words
        start = at
        while start < len(words) and words[start].form in _DETERMINERS:
            start += 1
        found = []
        end = start
        while end < len(words) and end - start < _MOST_UNKNOWN and not words[end].mark:
            if words[end].form in self.lexicon.parting:
                break
            end += 1
            if self.is_plain(end - 1):
                found.append(Thing(at, end, (), start, sure=False))
        return found[::-1]

    def searched(self, start: int, end: int) -> Thing:
        """A stretch looked up by likeness: with several readings, or with none and the nearest names."""
        name_start = start
        while name_start < end - 1 and self.line.words[name_start].form in _DETERMINERS:
            name_start += 1
        said = self.line.said(name_start, end)
        if self.look_ups <= 0:
            return Thing(start, end, (), name_start, sure=False)
        self.look_ups -= 1
        match = find_material(said, self.knowledge)
        if match.found:
            return Thing(start, end, (match.id,), name_start)
        if match.kind == "ask" and self._is_half_known(name_start, end):
            return Thing(start, end, match.candidates, name_start, sure=False)
        return Thing(start, end, (), name_start, sure=False, nearest=self.names(match.candidates[:3]))

    def _is_half_known(self, start: int, end: int) -> bool:
        """Whether at least half of the words are in names of ours."""
        words = [self.line.words[at] for at in range(start, end) if not self.is_filler(at)]
        known = sum(1 for word in words if word.key in self.materials.vocabulary)
        return 2 * known >= len(words)

    # ------------------------------------------------------------ lists

    def stuff(self, at: int) -> list[tuple[int, tuple[Thing, ...]]]:
        """One or more names from a word on, and each place where they may end, the longest list first.

        An amount before a name is passed over.
        """
        first = self._item(at)
        if first is None:
            return [(thing.end, (thing,)) for thing in self.unknown(at)]
        listed = [first]
        ends: list[tuple[int, tuple[Thing, ...]]] = [(first.end, (first,))]
        while len(listed) < _MOST_LISTED:
            place = listed[-1].end
            while place < len(self.line.words) and self.line.forms[place] in _JOINERS:
                place += 1
            another = self._item(place) if place > listed[-1].end else None
            if another is None:
                break
            listed.append(another)
            ends.append((another.end, tuple(listed)))
        return ends[::-1]

    def _item(self, at: int) -> Thing | None:
        if at >= len(self.line.words):
            return None
        found = self.thing(at)
        if found is not None:
            return found
        counted = self.amount(at)
        behind = self.thing(counted[1]) if counted is not None and counted[1] < len(self.line.words) else None
        if behind is None:
            return None
        return replace(behind, start=at, counted=True)

    def names(self, ids: Sequence[str]) -> tuple[str, ...]:
        """Names of materials, for people."""
        return tuple(self.knowledge.materials[id_].name for id_ in ids)

    def on_hand(self, thing: Thing) -> tuple[str, ...]:
        """Those materials on hand that a name may mean: the very one, or kinds of it."""
        held = tuple(id_ for id_ in self.context.materials if id_ in thing.ids)
        if held or not thing.ids:
            return held
        name = tuple(word.key for word in self.line.words[thing.name_start : thing.end])
        kinds = {id_ for key, ids in self.materials.exact.items() if key[-len(name) :] == name for id_ in ids}
        return tuple(id_ for id_ in self.context.materials if id_ in kinds)

"""Ways of saying found in a line, and things found by their form: numbers, temperatures, materials, times."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence, Set
from dataclasses import field

from advisor.hearing import spoken as figures
from advisor.hearing.cutting import Line, Word
from advisor.hearing.meanings import FramePart, Index, Meaning, Names, Part, Said, Vocabulary
from advisor.hearing.patterns import Way, ends, found
from advisor.hearing.roles import is_no_stuff
from advisor.hearing.spoken import Spoken
from advisor.household.names import materials_index
from advisor.household.tokens import singular
from advisor.household.words import ONES, TENS
from advisor.knowledge.base import Knowledge
from advisor.records import dataclass

#: A name of one word that is also a little word: it is a name behind "a", "the" or a number only.
_LITTLE = frozenset({"can", "may", "will", "like", "mean"})

#: Things found by their form that any line may hold, so far as its words show.
_BY_FORM = ("number", "count", "litres", "length", "measure", "temp", "time")


@dataclass(frozen=True, slots=True)
class Hit:
    """A way of saying that stands from one word up to another."""

    start: int
    end: int
    of: Meaning
    way: str = ""


@dataclass(frozen=True, slots=True)
class Named:
    """A material that is named, with the readings its name allows; `offered` of them where it is asked about."""

    start: int
    end: int
    ids: tuple[str, ...]
    offered: int = 6


@dataclass
class Finder:
    """Finds ways of saying in one line, and remembers what it found."""

    line: Line
    vocabulary: Vocabulary
    knowledge: Knowledge
    materials: Mapping[int, Named] = field(default_factory=dict)
    numbers: Mapping[int, tuple[float, int]] = field(default_factory=dict)
    _classes: dict[tuple[str, int], tuple[int, ...]] = field(default_factory=dict)
    _known: dict[tuple[str, int], bool] = field(default_factory=dict)
    _names: dict[int, Named | None] = field(default_factory=dict)
    _past: dict[int, int] = field(default_factory=dict)  # where names that name no stuff end
    _begin: dict[str, Set[int]] = field(default_factory=dict)
    _where: dict[str, tuple[int, ...]] = field(default_factory=dict)
    _tried: dict[int, dict[int, list[Said]]] = field(default_factory=dict)
    _hits: dict[tuple[int, int, int, int], tuple[Hit, ...]] = field(default_factory=dict)
    _places: dict[str, list[int]] = field(default_factory=dict)
    _present: frozenset[str] = frozenset()
    _spoken: Spoken | None = None

    def __post_init__(self) -> None:
        for at, word in enumerate(self.line.words):
            for said in {word.lemma, word.form}:
                self._places.setdefault(said, []).append(at)
        self.numbers = dict(_numbers(self.line.words))
        self._present = frozenset({*self._places, *map(found, _BY_FORM)})
        self.materials = dict(self._named())
        if self.materials:  # what names no material may hold one
            self._present |= {found("material")}
            self._tried.clear()
            self._hits.clear()
            self._where.clear()
            self._begin.clear()

    @property
    def spoken(self) -> Spoken:
        """The amounts and sizes of the line."""
        if self._spoken is None:
            self._spoken = Spoken(self.line, self.knowledge)
        return self._spoken

    def hits(self, index: Index, start: int, end: int, last: int | None = None) -> tuple[Hit, ...]:
        """Every way of saying of an index that begins in a stretch; of one meaning at one place, the longest.

        Args:
            last: how far a way may reach; no further than the stretch if left out.
        """
        key = (id(index), start, end, end if last is None else last)
        known = self._hits.get(key)
        if known is None:
            known = self._hits[key] = tuple(self._found(index, start, end, key[3]))
        return known

    def _found(self, index: Index, start: int, end: int, reach: int) -> Iterator[Hit]:
        words = self.line.words
        tried = self._that_may_stand(index)
        for at in range(start, end):
            best: dict[int, Hit] = {}
            for said in tried.get(at, ()):
                behind = ends(said.way, words, at, reach, self.things)
                if behind:
                    kept = best.get(id(said.of))
                    if kept is None or behind > kept.end:
                        best[id(said.of)] = Hit(at, behind, said.of, said.way.text)
            yield from best.values()

    def _that_may_stand(self, index: Index) -> dict[int, list[Said]]:
        """The ways of an index whose words are all in the line, by the words of the line at which they may begin."""
        tried = self._tried.get(id(index))
        if tried is None:
            tried = self._tried[id(index)] = {}
            able: dict[str, list[Said]] = {}
            lacks = self._present.isdisjoint
            for at, word in enumerate(self.line.words):
                for begun in (word.lemma, word.form) if word.form != word.lemma else (word.form,):
                    if begun not in able:
                        saids = (said for need, said in index.rarest(begun) if not lacks(need))
                        able[begun] = [said for said in saids if self._may_stand(said.way)]
                    if able[begun]:
                        tried.setdefault(at, []).extend(able[begun])
            for name, begun_by in index.by_thing.items():
                places = self.where(name)
                if places:
                    kept = [said for said in begun_by if self._may_stand(said.way)]
                    for at in places:
                        tried.setdefault(at, []).extend(kept)
            if index.in_sets:
                _leave_out_parts(tried)
        return tried

    def _may_stand(self, way: Way) -> bool:
        """Whether the line holds something of each set that a way of saying needs."""
        return not any(map(self._present.isdisjoint, way.needs))

    def _named(self) -> Iterator[tuple[int, Named]]:
        """The longest names of materials, each at its first word; a name inside another is not named."""
        at = 0
        while at < len(self.line.words):
            found = self.named_at(at)
            if found is not None:
                yield at, found
            at = found.end if found is not None else self._past.get(at, at + 1)

    def named_at(self, at: int) -> Named | None:
        """The longest name that begins at a word, though another may hold the word."""
        if at not in self._names:
            every = (*self._exact(at), *self._put_together(at))
            found = max(every, key=lambda named: named.end, default=None)
            little = found is not None and found.end == at + 1 and self.line.words[at].form in _LITTLE
            unnamed = (little and not self._is_counted(at)) or (found is not None and self._names_no_stuff(found))
            self._names[at] = None if unnamed else found
            if unnamed and found is not None:
                self._past[at] = found.end
        return self._names[at]

    def _names_no_stuff(self, named: Named) -> bool:
        """Whether a name is part of another word, or what something is likened to: "oil tank", "dry as a biscuit"."""
        if is_no_stuff(self, named):
            return True
        before = [word.form for word in self.line.words[max(0, named.start - 3) : named.start]]
        return len(before) > 1 and before[-1] in ("a", "an") and before[-2] in ("as", "like") and before[0] != "such"

    def _is_counted(self, at: int) -> bool:
        before = self.line.words[at - 1].form if at else ""
        return before in ("a", "the", "my", "tin", "of") or before[:1].isdigit()

    def _exact(self, at: int) -> Iterator[Named]:
        """The longest name or alias of rules/materials/ that begins at a word; hyphens within it do not count."""
        index = materials_index(self.knowledge)
        words = self.line.words
        best: Named | None = None
        key: list[str] = []
        for place in range(at, min(at + 2 * index.longest, len(words))):
            word = words[place]
            if word.form == "'s" and key:
                continue
            if word.mark:
                inside = 0 < place < len(words) - 1 and words[place - 1].end == word.start and bool(key)
                if word.form == "-" and inside and words[place + 1].start == word.end:
                    continue
                break
            key.append(singular(word.form))
            ids = index.exact.get(tuple(key)) or index.squashed.get("".join(key))
            if ids:
                best = Named(at, place + 1, ids)
        if best is not None:
            yield best

    def _put_together(self, at: int) -> Iterator[Named]:
        """The names of rules/words/names.toml that begin at a word."""
        last = len(self.line.words)
        for hit in self.hits(self.vocabulary.name_index, at, at + 1, last):
            if isinstance(hit.of, Names):
                yield Named(at, hit.end, self._members(hit.of), len(hit.of.ids))

    def _members(self, names: Names) -> tuple[str, ...]:
        """The materials of a name, those first that are offered as readings."""
        if not names.trait and not names.role:
            return names.ids
        others = (
            name
            for name, material in self.knowledge.materials.items()
            if (names.trait and names.trait in material.traits) or (names.role and names.role == material.role)
        )
        return tuple(dict.fromkeys((*names.ids, *others)))

    def figure(self, name: str, at: int) -> tuple[float, int] | None:
        """The figure of a form that begins at a word, as "number" or "length:0:10", and the place behind it."""
        if name == "number":
            return self.numbers.get(at)
        form, *bounds = name.split(":")
        found = self.numbers.get(at) if form == "number" else self.spoken.figure(form, at)
        if found is None or (bounds and not float(bounds[0]) <= found[0] <= float(bounds[1])):
            return None
        return found

    def once(self, key: tuple[str, int], work_out: Callable[[], bool]) -> bool:
        """Something about this line that is worked out once: what it is called and where, and how to work it out."""
        if key not in self._known:
            self._known[key] = work_out()
        return self._known[key]

    def stands(self, ways: Sequence[Way], start: int, end: int) -> bool:
        """Whether one of some ways of saying stands anywhere in a stretch."""
        able = [way for way in ways if self._may_stand(way)]
        return any(ends(way, self.line.words, at, end, self.things) for way in able for at in range(start, end))

    def names(self, name: str, start: int, end: int) -> bool:
        """Whether a thing of a class begins in a stretch."""
        return any(start <= at < end for at in self.where(name))

    def where(self, name: str) -> tuple[int, ...]:
        """The words at which a thing of a class begins, in order."""
        known = self._where.get(name)
        if known is None:
            known = self._where[name] = tuple(at for at in sorted(self._beginnings(name)) if self.things(name, at))
        return known

    def _beginnings(self, name: str) -> Set[int]:
        """The words at which a thing of a class may begin."""
        known = self._begin.get(name)
        if known is None:
            known = self._begin[name] = self._may_begin(name)
        return known

    def _may_begin(self, name: str) -> Set[int]:
        form, _, bounds = name.partition(":")
        if name == "material":
            return self.materials.keys()
        if form == "number":
            return self.numbers.keys()
        if bounds or form in ("litres", "length"):  # so many of a unit
            return set(self.where(form if bounds else "count"))
        if name not in self.vocabulary.class_starts:
            return set(range(len(self.line.words)))
        words, names = self.vocabulary.class_starts[name]
        places = {at for word in words & self._places.keys() for at in self._places[word]}
        return places.union(*map(self.where, names))

    def things(self, name: str, at: int) -> tuple[int, ...]:
        """Where a thing of a class that begins at a word may end."""
        if at not in self._beginnings(name):
            return ()
        key = (name, at)
        known = self._classes.get(key)
        if known is None:
            known = self._classes[key] = tuple(self._things(name, at))
        return known

    def _things(self, name: str, at: int) -> Iterator[int]:
        if name == "material":
            if at in self.materials:
                yield self.materials[at].end
        elif name.partition(":")[0] in figures.FORMS:
            figure = self.figure(name, at)
            if figure is not None:
                yield figure[1]
        elif name in self.vocabulary.classes:
            word = self.line.words[at]
            self._classes[(name, at)] = ()  # a class that holds itself ends here
            index = self.vocabulary.class_index(name)
            ways = {*index.get(word.lemma, ()), *index.get(word.form, ()), *index.get("", ())}
            last = len(self.line.words)
            behind = {ends(way, self.line.words, at, last, self.things) for way in ways if self._may_stand(way)}
            yield from sorted(behind - {0})


def _leave_out_parts(tried: Mapping[int, list[Said]]) -> None:
    """Take away the ways of what is told by several sets, where a set has none that may stand in the line."""
    sets: dict[int, set[int]] = {}
    for saids in tried.values():
        for said in saids:
            if isinstance(said.of, Part | FramePart):
                sets.setdefault(id(said.of.whole), set()).add(said.of.number)
    for saids in tried.values():
        saids[:] = [
            said
            for said in saids
            if not isinstance(said.of, Part | FramePart) or len(sets[id(said.of.whole)]) == said.of.whole.groups
        ]


def _numbers(words: tuple[Word, ...]) -> Iterator[tuple[int, tuple[float, int]]]:
    """Numbers in figures, and in words up to the nineties, with the place behind them."""
    for at, word in enumerate(words):
        if word.form[0].isdigit():
            plain = word.form.rstrip("stndrh").replace(",", "")
            try:
                yield at, (float(plain), at + 1)
            except ValueError:
                continue
        elif word.form in TENS:
            following = words[at + 1].form if at + 1 < len(words) else ""
            ones = ONES.get(following)
            more = 0.0 if ones is None or ones > 9 else float(ones)
            yield at, (float(TENS[word.form]) + more, at + (2 if more else 1))
        elif word.form in ONES and word.form not in ("a", "an"):
            yield at, (float(ONES[word.form]), at + 1)

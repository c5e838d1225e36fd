"""What a line says of how much there is: names and amounts put together, what there is none of, what is gone."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import field, replace

from advisor.errors import HouseholdError
from advisor.hearing.cutting import Clause, Sentence
from advisor.hearing.finding import Finder
from advisor.hearing.lists import in_parts, share_of, shared_between, told_once, totalled
from advisor.hearing.parting import parted
from advisor.hearing.shapes import Fact, HeardAmount
from advisor.hearing.stance import Taken, stance
from advisor.hearing.stuff import Counted, Name, Stuff, joins
from advisor.household.phrase import Phrase, measured
from advisor.household.shapes import Quantity
from advisor.household.tokens import shown
from advisor.records import dataclass

MOST_SHOWN = 80  # characters of somebody's words that are quoted back
_SEPARATORS = frozenset({"to", ",", ":", "(", "=", "-", "–", "—", "x", "is", "are", "about"})
_REACH = 8  # words between a name and an amount that is told behind it
_COVERING = ("stock-small", "stock-aside", "stock-supposing", "stock-correcting", "stock-on-top", "stock-idle")
_MOST_ADJECTIVES = 3
_AND = frozenset({"and", "plus", "+", "&"})
_OR = frozenset({"or", "nor"})
_SANITISE = "wish.sanitise"  # said beside the stuff that is to be killed
_STATING = ("place.", "wish.", "household.")


@dataclass(frozen=True, slots=True)
class Item:
    """A name, an amount, or both, from one word up to another.

    Attributes:
        measures: of the amount before it, which "2 of grass" counts in.
        none: there is none of it; `gone` so much of it, or all, is gone; `used` so much of it went.
        sharers: so many materials have the amount between them; 0 if it is of this one alone.
    """

    start: int
    end: int
    counted: Counted | None = None
    name: Name | None = None
    measures: tuple[str, ...] = ()
    kind: str = ""
    more: bool = False
    begins: int = -1  # the word with which "no" or "forget" begins
    sharers: int = 0

    @property
    def none(self) -> bool:
        """Whether its amount says that there is none."""
        return self.counted is not None and self.counted.amount.count.none


@dataclass
class Stock:
    """Puts together what the sentences of one line say."""

    finder: Finder
    facts: Sequence[Fact]
    taken: Sequence[Taken]
    attribute: str = ""
    found: list[HeardAmount] = field(default_factory=list)

    def __post_init__(self) -> None:
        for sentence in self.finder.line.sentences:
            self.stuff = Stuff(self.finder, sentence)
            paired = self.shared(self.paired(sentence, totalled(self, self.items(sentence))))
            items = self.kinds(sentence, shared_between(self, told_once(self, paired)))
            counting = (self.counting(item, items) for item in items)
            for amount in parted(self, [item for item in counting if item is not None], sentence):
                self.found.append(amount)  # one by one: whether a thing is to hand goes by what stands before it

    # ------------------------------------------------------------ in order

    def items(self, sentence: Sentence) -> list[Item]:
        """Amounts with the names that follow them, and names alone."""
        found: list[Item] = []
        at = sentence.start
        while at < sentence.end:
            item = self.item(at, found[-1] if found else None)
            if item is not None:
                found.append(item)
            at = item.end if item is not None else at + 1
        return found

    def item(self, at: int, before: Item | None) -> Item | None:
        """What begins at a word."""
        counted = self.stuff.counted(at)
        named = self.finder.named_at(at)
        name = self.stuff.name(at)
        if counted is not None and not (named is not None and named.end >= counted.end and not counted.amount.measured):
            item = self.counted(counted, before)
            article = counted.amount.bare and counted.amount.count.article and not counted.amount.count.none
            if item is not None and not article and (named is None or item.end >= named.end):
                return item
        if name is None:
            return None
        return Item(at, name.end, None, name)

    def counted(self, counted: Counted, before: Item | None) -> Item | None:
        """An amount with its name, or alone if it is measured."""
        amount, at = counted.amount, counted.end
        if amount.bare and not amount.count.none:
            unit = self.finder.spoken.other_unit(at)
            at = unit[1] if unit is not None else at
        words = self.finder.line.words
        if at < self.stuff.sentence.end and words[at].form == "of":
            at += 1
        name = self.stuff.name(at)
        partly = at > counted.end and words[at - 1].form == "of"
        if name is None and (amount.measured or amount.unit or partly) and not amount.count.none:
            name = self.stuff.qualified(at)
        if name is None:
            return Item(counted.start, counted.end, counted, more=counted.more) if amount.measured else None
        if amount.bare and not amount.count.none:
            borrows = at > counted.end and before is not None and before.counted is not None
            if borrows and before is not None and before.counted is not None and before.counted.amount.measures:
                measures = before.counted.amount.measures
                return Item(counted.start, name.end, counted, name, measures, more=counted.more)
        tailed = self.stuff.with_tail(replace(counted, end=name.end))
        return Item(counted.start, tailed.end, replace(tailed, end=name.end), name, more=counted.more)

    def paired(self, sentence: Sentence, items: Sequence[Item]) -> list[Item]:
        """With "grass, 2 barrows" and "leaves: 3 sacks" put together."""
        found: list[Item] = []
        rest = list(items)
        for place, item in enumerate(rest):
            before = found[-1] if found else None
            alone = item.name is None and item.counted is not None
            if before is not None and alone and before.name is not None and before.counted is None:
                behind = rest[place + 1] if place + 1 < len(rest) else None
                apart = "," in self.stuff.forms(before.end, item.start)
                if self.leads_to(before, item) and not (apart and self.is_shared(item, behind)):
                    found[-1] = replace(before, end=item.end, counted=item.counted)
                    continue
            found.append(item)
        return list(self._with_loose(found, sentence))

    def _with_loose(self, items: Sequence[Item], sentence: Sentence) -> Iterator[Item]:
        """With the amounts without a measure that are told behind a name: "leaves: lots", "manure: none"."""
        for place, item in enumerate(items):
            behind = items[place + 1].start if place + 1 < len(items) else sentence.end
            at = item.end
            while at < behind and self.finder.line.words[at].form in _SEPARATORS:
                at += 1
            counted = self.stuff.counted(at) if item.counted is None and item.end < at < behind else None
            loose = counted is not None and (counted.amount.count.none or counted.amount.unit is not None)
            if counted is not None and loose and counted.end <= behind:
                yield replace(item, end=counted.end, counted=counted)
            else:
                yield item

    def leads_to(self, name: Item, amount: Item) -> bool:
        """Whether only signs and words that say nothing of their own stand between a name and an amount."""
        if amount.start - name.end > _REACH:
            return False
        at = name.end
        words = self.finder.line.words
        while at < amount.start:
            rate = self.finder.spoken.rate(at)
            ends = [rate[1]] if rate is not None else []
            ends += self.finder.things("stock-aside", at)
            if words[at].form in _SEPARATORS:
                ends.append(at + 1)
            ends = [end for end in ends if end <= amount.start]
            if not ends:
                return False
            at = max(ends)
        return True

    def is_shared(self, item: Item, behind: Item | None) -> bool:
        """Whether an amount shares the name behind it: "a barrow and two buckets of grass"."""
        if behind is None or behind.counted is None or behind.name is None:
            return False
        between = self.stuff.forms(item.end, behind.start)
        return bool(between) and not set(between) - _AND

    def shared(self, items: Sequence[Item]) -> list[Item]:
        """With shared names given to the amounts before them."""
        found = list(items)
        for place in range(len(found) - 2, -1, -1):
            if found[place].name is None and self.is_shared(found[place], found[place + 1]):
                found[place] = replace(found[place], name=found[place + 1].name)
        return found

    # ------------------------------------------------------------ none of it, and what is gone

    def kinds(self, sentence: Sentence, items: Sequence[Item]) -> list[Item]:
        """With what is said of each: that there is none of it, or that it is gone."""
        found: list[Item] = []
        words = self.finder.line.words
        for item in items:
            kind, begins = self.kind(sentence, item)
            before = found[-1] if found else None
            if not kind and before is not None and before.kind and item.name is not None:
                between = self.stuff.forms(before.end, item.start)
                listed = bool(between) and joins(between)
                if listed and (before.kind in ("less", "used") or not item.counted):
                    kind, begins = before.kind, item.start
                if before.kind == "none" and not (_OR & {word.form for word in words[before.start : sentence.end]}):
                    kind = kind if before.begins >= 0 and between != (",",) and item.counted is None else ""
            found.append(replace(item, kind=kind, begins=begins))
        taken = [(item.begins, item.start) for item in found if 0 <= item.begins < item.start]
        return [item for item in found if not any(start <= item.start < end for start, end in taken)]

    def kind(self, sentence: Sentence, item: Item) -> tuple[str, int]:
        if item.none:
            return "none", item.start
        for name, kind in (("stock-lacking", "none"), ("stock-taken", "less"), ("stock-used", "used")):
            if item.name is None:
                break
            for at in range(max(sentence.start, item.start - _REACH), item.start):
                lead = item.start if item.counted is not None and kind != "none" else item.name.first
                if any(item.start <= end <= lead for end in self.finder.things(name, at)):
                    if kind == "none" and item.counted is not None and item.counted.amount.measured:
                        continue
                    return kind, at
        clause = self.finder.line.clause_of(item.start)
        gone = self.finder.things("stock-gone", item.end) if item.name is not None and item.end < clause.end else ()
        if gone and max(gone) <= clause.end:
            form = self.finder.line.words[item.end].form
            if form not in ("less", "fewer") or item.counted is not None:
                return "less", item.start
        return "", -1

    # ------------------------------------------------------------ what counts

    def counting(self, item: Item, items: Sequence[Item]) -> Item | None:
        """An item, if it is said of what is on hand: a bare name only where its clause says nothing else."""
        told = self.told_over(item)
        holds = item.name is not None and item.counted is not None and item.counted.amount.measured
        if told and not (holds and all(self.is_within(fact, item) for fact in told)):
            return None
        if item.name is None or item.kind or item.counted is not None:
            return item
        clause = self.finder.line.clause_of(item.start)
        covered: set[int] = set()
        for one in items:
            covered.update(range(one.start, one.end))
        for at in range(clause.start, clause.end):
            for name in _COVERING:
                covered.update(self.stuff.covered(name, at))
            rate = self.finder.spoken.rate(at)
            covered.update(range(at, rate[1]) if rate is not None else ())
        words = self.finder.line.words
        stated = [(fact.start, fact.end) for fact in self.facts if fact.name.startswith((*_STATING, "material."))]
        left = [  # words that nothing accounts for
            at
            for at in range(clause.start, clause.end)
            if at not in covered
            and not words[at].mark
            and not any(start <= words[at].start < end for start, end in stated)
        ]
        if left:  # "sopping wet leaves": a word that may change what it is
            described = left == list(range(clause.start, item.name.first)) and len(left) <= _MOST_ADJECTIVES
            described = described and not self.finder.things("stock-shy", item.name.first)
            return replace(item, name=replace(item.name, sure=False)) if described else None
        shy = set(self.finder.things("stock-shy", item.name.first))
        others = any(one is not item for one in items if self._in(one, clause))
        return None if item.name.end in shy and others else item

    @staticmethod
    def _in(item: Item, clause: Clause) -> bool:
        return clause.start <= item.start < clause.end

    def told_over(self, item: Item) -> list[Fact]:
        """The circumstances that are told by some of the same words: what a bin holds, "two plastic bins", "6 hens"."""
        words = self.finder.line.words
        first, last = words[item.start].start, words[item.end - 1].end
        return [
            fact
            for fact in self.facts
            if fact.name.startswith((*_STATING, "limit."))
            and fact.start < last
            and first < fact.end
            and not (fact.name == _SANITISE != self.attribute and first <= fact.start and fact.end <= last)
        ]

    def is_within(self, fact: Fact, item: Item) -> bool:
        """Whether an item holds all the words of a fact, and more: "3 buckets of tomatoes"."""
        words = self.finder.line.words
        first, last = words[item.start].start, words[item.end - 1].end
        return first <= fact.start and fact.end <= last and fact.end - fact.start < last - first

    # ------------------------------------------------------------ as it is handed on

    def heard(self, item: Item) -> HeardAmount:
        """An item as it is handed on."""
        line, words = self.finder.line, self.finder.line.words
        start = item.begins if 0 <= item.begins < item.start else item.start
        said = shown(line.said(item.start, item.end), MOST_SHOWN)
        name = item.name
        amount = item.counted.amount if item.counted is not None else None
        ids = name.named.ids if name is not None else ()
        if name is None and amount is not None:
            implied = self.finder.vocabulary.implied
            ids = next(((implied[id_],) for id_ in amount.measures if id_ in implied), ())
        clause = line.clause_of(item.start)
        how = stance(self.finder, item.start, item.end, clause, self.taken)
        made = HeardAmount(
            ids,
            shown(line.said(name.first, name.end), MOST_SHOWN) if name is not None else "",
            said,
            "told" if how.name == "denied" else how.name,
            words[start].start,
            words[item.end - 1].end,
            item.kind or "have",
            more=item.more or self.stuff.is_on_top(item.start, item.end, clause),
            sure=name is None or name.sure,
            beside=self.is_beside(item),
            offered=name.named.offered if name is not None else 1,
        )
        if amount is None or made.kind == "none":
            return made
        if made.kind != "have" and not amount.measured and amount.count.part:
            return replace(made, share=amount.count.value)
        try:
            quantity, trouble = self.quantity(item, said)
        except HouseholdError as error:
            return replace(made, trouble=error.message)
        return replace(made, quantity=quantity, trouble=trouble, measured=amount.measured or bool(item.measures))

    def quantity(self, item: Item, said: str) -> tuple[Quantity | None, str]:
        """How much, or why it cannot be taken.

        Raises:
            HouseholdError: the amount is below zero, or more than anybody has.
        """
        counted = item.counted
        if counted is None:
            return None, ""
        amount = counted.amount
        if item.sharers:
            amount = replace(amount, count=share_of(amount.count, item.sharers))
        count = amount.count
        if count.negative and not count.article:
            raise HouseholdError("an amount cannot be less than nothing", where=f"'{said}'")
        spoken = self.finder.spoken
        if in_parts(self, item):
            return None, ""
        if item.measures:
            packed = self.finder.knowledge.measures[item.measures[0]].packed
            return Quantity(count.value, count.low, count.high, item.measures[0], "once", packed), ""
        name = item.name
        called = self.finder.line.said(name.first, name.end) if name is not None else ""
        phrase = Phrase(said, None, called, (0, 0))
        read = measured(
            self.finder.line.text,
            spoken.tokens,
            amount,
            counted.rates,
            counted.packed,
            phrase,
            self.finder.knowledge,
        )
        hint = f" ({read.hint})" if read.trouble and read.hint else ""
        return read.quantity, read.trouble + hint

    def is_beside(self, item: Item) -> bool:
        """Whether something is said to be to hand, and not to have gone into a heap; in a list, as what is before."""
        clause = self.finder.line.clause_of(item.start)
        says = [
            name for name in ("stock-went-in", "stock-to-hand") if self.finder.names(name, clause.start, clause.end)
        ]
        if says:
            return says[0] == "stock-to-hand"
        before = self.found[-1] if self.found else None
        first = self.finder.line.words[self.stuff.sentence.start].start
        return before is not None and before.start >= first and before.beside


def amounts(
    finder: Finder, facts: Sequence[Fact], taken: Sequence[Taken], attribute: str = ""
) -> tuple[HeardAmount, ...]:
    """What a line says of how much there is, in order.

    Args:
        attribute: the fact that the open question asks for.
    """
    if not finder.materials and not finder.numbers and not _counts(finder):
        return ()
    return tuple(Stock(finder, facts, _telling(finder, taken), attribute).found)


def _telling(finder: Finder, taken: Sequence[Taken]) -> list[Taken]:
    """Triggers without those in words that only lead up to what there is: "I want to use up", "it should be"."""
    words = range(len(finder.line.words))
    spans = [(at, end) for at in words for name in _LEADING for end in finder.things(name, at)]
    return [one for one in taken if not any(start <= one.start and one.end <= end for start, end in spans)]


_LEADING = ("stock-aside", "stock-correcting")


def _counts(finder: Finder) -> bool:
    return any(finder.spoken.amount(at) is not None for at in range(len(finder.line.words)))

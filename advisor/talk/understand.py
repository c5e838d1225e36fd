"""What a line that was heard means in the talk: intents, beside what the talk expects and what is on hand."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import cast

from advisor.hearing.english import listed
from advisor.hearing.hear import hear
from advisor.hearing.shapes import Asked, Fact, Heard, HeardAmount, HeardDoor, HeardSize, HeardSwap
from advisor.household.names import materials_index
from advisor.household.shapes import Holding
from advisor.household.tokens import fold, singular
from advisor.knowledge.base import Knowledge
from advisor.talk.intents import (
    Ask,
    AskMaterial,
    AskWhy,
    Context,
    Door,
    Enter,
    Have,
    HaveNot,
    Intent,
    Less,
    Lost,
    Pick,
    Request,
    Span,
    Swap,
    TellMeasure,
    TellRoom,
    Told,
    Unclear,
    Understood,
    Vague,
    WhatIf,
    Which,
)
from advisor.talk.manures import of_the_animals
from advisor.talk.rivals import without_rivals
from advisor.talk.situation import animals_kept

_NOTHING_ASKED = Context()
_CIRCUMSTANCES = ("place.", "wish.", "household.")
_ROOM, _SPACE, _HOLDS = "place.room", "place.space", "place.holds"
_SMALLHOLDING_M2 = 2000.0  # half an acre; our own line between a garden and a smallholding
_SMALL = frozenset({"a", "an", "the", "not", "that", "this", "it", "is", "my", "your"})
#: "2 sacks of them" is an amount of what was spoken of last.
_STAND_FOR_THE_LAST = listed("it that them this those these the each both my our your stuff")
#: In a line that is one of these first an amount without a name is of nothing on hand: "drained the bucket, 200 ml".
_DONE = (("deed",), ("observation",), ("trouble",), ("danger",))
_OF_THE_LAST = (" of them", " of it", " of those", " of that")
_MARKS = ".,;:!?"
#: What "should I get a tumbler?" and "what about turning it weekly?" suppose.
_SUPPOSABLE = frozenset({"place.container", "wish.turning", "wish.aim", "place.climate"})
_PRESUMED = ("asked", "place.space")
_OF_MATERIALS = frozenset({"ask_material", "ask_fact", "ask_how", "ask_why", "ask_ready", "ask_use", "ask_plan"})
#: What is no answer to the open question, though words of its options stand in it.
_NO_ANSWER = (Have, Less, WhatIf, Swap, AskMaterial)
#: Questions of these ask after no stuff: "no leaves here" is no answer to them.
_NO_STUFF = ("place.", "household.")
#: Signs that tell of no trouble by themselves.
_NO_TROUBLE = frozenset({"sign.holds", "sign.method", "sign.age"})
_STATED = frozenset({"told", "past"})
#: Answers that give way to any other beside them.
_LESS = frozenset({"none", "unsure"})


def understand(text: str, knowledge: Knowledge, context: Context = _NOTHING_ASKED) -> Understood:
    """Everything a line of text means, in order.

    Args:
        text: what was typed, as it was typed. No text is refused.
        knowledge: the rule base.
        context: what the talk expects just now.

    Raises:
        RuleBaseError: a file of rules/words/ is not in order.
    """
    heard = hear(text, knowledge, asked_of(context, knowledge))
    return Understood(text, meant(heard, knowledge, context))


def asked_of(context: Context, knowledge: Knowledge) -> Asked:
    """The open question of a context, in the words of the screen."""
    begun = bool(context.attribute or context.materials)
    for question in (*knowledge.questions, *knowledge.sign_questions):
        if question.attribute == context.attribute:
            kind, _, name = question.attribute.partition(".")
            labels = tuple(knowledge.kinds[kind].attributes[name].words.values())
            unsure = ("I don't know",) * (context.options - len(labels))
            many = knowledge.kinds[kind].attributes[name].many
            return Asked(question.ask, (*labels, *unsure), many=many, attribute=question.attribute, begun=begun)
    numbers = tuple(str(number) for number in range(1, context.options + 1))
    return Asked("Which?" if numbers else "", numbers, begun=begun)


def meant(heard: Heard, knowledge: Knowledge, context: Context) -> tuple[Intent, ...]:
    """What a line that was heard means, in the order in which it was said."""
    return tuple(_Meaner(heard, knowledge, context).intents())


@dataclass
class _Meaner:
    heard: Heard
    knowledge: Knowledge
    context: Context
    latest: str = ""

    def intents(self) -> list[Intent]:
        heard = self.heard
        whole = (0, len(heard.text))
        if heard.numbered and self.context.options:
            return [Pick(number, whole) for number in heard.options if number <= self.context.options]
        if heard.named and (named := self.answer([])):
            return named  # the words of an option say nothing besides
        found: list[Intent] = [
            *self.told(),
            *self.stock("told"),
            *self.ground("told"),
            *self.swapped(),
            *self.entered(),
            *self.asked(),
        ]
        supposed = self.supposed()
        if supposed:
            found = [one for one in found if not isinstance(one, Swap)]
            found.append(WhatIf(tuple(sorted(supposed, key=_place)), (supposed[0].span[0], whole[1])))
        found = sorted(without_rivals(found), key=_place)
        if not found and set(heard.text.split()) and set(heard.text.strip()) <= set("?？؟"):
            return [Ask("help", whole)]
        told = any(isinstance(one, Told | Which) and one.attribute == self.context.attribute for one in found)
        lacks = self.context.attribute.startswith(_NO_STUFF) and any(isinstance(one, HaveNot) for one in found)
        answer = [] if told or lacks or any(isinstance(one, _NO_ANSWER) for one in found) else self.answer(found)
        if answer:
            found = [*answer, *(one for one in found if not isinstance(one, Ask | HaveNot))]
        return found

    # ------------------------------------------------------------ answers

    def answer(self, found: Sequence[Intent]) -> list[Intent]:
        """The answer to the open question, where the whole line is one."""
        heard, attribute = self.heard, self.context.attribute
        whole = (0, len(heard.text))
        kind, _, name = attribute.partition(".")
        declared = self.knowledge.kinds[kind].attributes[name] if attribute else None
        values = list(declared.words) if declared is not None else []
        plain = [one.request for one in found if isinstance(one, Ask) and one.request in ("yes", "no")]
        answer = "yes" if heard.yes else "no" if heard.yes is not None else next(iter(plain), "")
        if heard.named and heard.options and heard.options[-1] <= len(values):
            answer = ""  # "no food in a heap" is an option, and no "no"
        said = answer if answer in values else "none" if answer == "no" and "none" in values else ""
        if said:
            return [Told(attribute, (said,), whole)]
        bare = bool(plain) and len(heard.text.split()) == 1
        if not heard.named and any(isinstance(one, Enter) for one in found):
            return []  # "plan a year" says nothing of a climate that is wet all year
        if bare or not heard.options or not values or heard.options[-1] > len(values):
            return []
        picked = tuple(values[number - 1] for number in heard.options)
        return [Told(attribute, tuple(value for value in picked if value not in _LESS) or picked[:1], whole)]

    # ------------------------------------------------------------ circumstances

    def told(self) -> Iterator[Told | Which]:
        """What is told; where somebody is is told by a question as well: "how do I compost in a flat?"."""
        told = [fact for fact in self.heard.facts if fact.stance in _STATED or (fact.stance, fact.name) == _PRESUMED]
        yield from self.circumstances(fact for fact in told if not self.is_counted(fact))

    def is_counted(self, fact: Fact) -> bool:
        """Whether a circumstance is part of an amount: "3 buckets of tomatoes", or of ground that was asked for."""
        if fact.name == _SPACE and self.context.attribute == _ROOM and self.heard.sizes:
            return True
        return fact.name != "wish.sanitise" and any(
            one.measured and one.ids and one.start <= fact.start and fact.end <= one.end for one in self.heard.amounts
        )

    def circumstances(self, facts: Iterable[Fact]) -> Iterator[Told | Which]:
        """One answer for each attribute: several values together, or either of them if only one can be."""
        by_name: dict[str, list[Fact]] = {}
        for fact in facts:
            if fact.name.startswith(_CIRCUMSTANCES) and self.is_attribute(fact.name):
                by_name.setdefault(fact.name, []).append(fact)
        for name, found in by_name.items():
            yield from self.answers(name, found)

    def is_attribute(self, name: str) -> bool:
        kind, _, attribute = name.partition(".")
        return kind in self.knowledge.kinds and attribute in self.knowledge.kinds[kind].attributes

    def answers(self, name: str, facts: Sequence[Fact]) -> Iterator[Told | Which]:
        kind, _, attribute = name.partition(".")
        declared = self.knowledge.kinds[kind].attributes[attribute]
        span = min(fact.start for fact in facts), max(fact.end for fact in facts)
        if declared.number is not None:
            for fact in facts[:1]:
                if fact.value and (number := self.within(name, float(fact.value))) is not None:
                    yield Told(name, (number,), span)
            return
        groups: dict[str, list[str]] = {}
        for fact in facts:
            if fact.value in declared.words:
                groups.setdefault(f"{fact.concept} {fact.start}", []).append(fact.value)
        groups = self.longest(groups, facts) if not declared.many else groups
        sharp = [values for values in groups.values() if len(values) == 1]
        every = list(dict.fromkeys(value for values in groups.values() for value in values))
        either = bool(every) and not sharp
        values = list(dict.fromkeys(values[0] for values in sharp)) or every
        if len(values) > 1 and not either and declared.many:
            values = [value for value in values if value not in _LESS] or values[:1]
        if len(values) == 1 or (values and declared.many and not either):
            yield Told(name, tuple(values), span)
        elif values:
            yield Which(name, tuple(values), self.heard.text[span[0] : span[1]], span)

    def longest(self, groups: dict[str, list[str]], facts: Sequence[Fact]) -> dict[str, list[str]]:
        """Without what is said by a part of the words that say another: "my garden" in "my garden is very small"."""
        spans = {f"{fact.concept} {fact.start}": (fact.start, fact.end) for fact in facts}
        return {
            key: values
            for key, values in groups.items()
            if not any(
                other != key
                and spans[other][0] < spans[key][1]
                and spans[key][0] < spans[other][1]
                and spans[other][1] - spans[other][0] > spans[key][1] - spans[key][0]
                for other in groups
            )
        }

    def within(self, name: str, number: float) -> float | None:
        """The number, if it can be an answer."""
        kind, _, attribute = name.partition(".")
        low, high = self.knowledge.kinds[kind].attributes[attribute].number or (number, number)
        return round(number, 2) if low <= number <= high else None

    # ------------------------------------------------------------ the ground

    def ground(self, stance: str) -> Iterator[Intent]:
        for size in self.heard.sizes:
            if (size.stance in _STATED) == (stance == "told"):
                yield from self.size(size)

    def size(self, size: HeardSize) -> Iterator[Intent]:
        """A ground plan, an area or a measure; land in acres says what kind of place, unless ground was asked for."""
        span, asked = (size.start, size.end), self.context.attribute
        if size.measure:
            yield TellMeasure(size.measure, size.litres, span)
        elif size.room is not None:
            room = size.room
            if asked == _HOLDS and room.height_m is not None:
                number = self.within(_HOLDS, 1000 * room.length_m * room.width_m * room.height_m)
                if number is not None:
                    yield Told(_HOLDS, (number,), span)
            elif size.sure or asked == _ROOM:
                yield TellRoom(room, span)
        elif size.land and asked != _ROOM:
            yield Told(_SPACE, ("smallholding" if size.square_metres >= _SMALLHOLDING_M2 else "garden",), span)
        else:
            number = self.within(_ROOM, size.square_metres)
            yield Told(_ROOM, (number if number is not None else 10_000.0,), span)

    # ------------------------------------------------------------ what is on hand

    def stock(self, stance: str) -> Iterator[Intent]:
        for amount in with_names(self.heard):
            if any(size.measure and size.start < amount.end and amount.start < size.end for size in self.heard.sizes):
                continue
            if (amount.stance in _STATED) == (stance == "told"):
                yield from self.amount(amount)

    def amount(self, amount: HeardAmount) -> Iterator[Intent]:
        span = (amount.start, amount.end)
        unread = "" if amount.ids else self.unknown_name(amount)
        if unread:
            at = self.heard.text.index(unread, amount.end)
            yield Lost(unread, (at, at + len(unread)))
            return
        ids = of_the_animals(amount.ids, self.animals()) or self.unnamed(amount)
        if not ids or (not amount.ids and self.heard.acts[:1] in _DONE and not self.heard.correcting):
            return
        if len(ids) < len(amount.ids):
            amount = replace(amount, ids=ids, sure=len(ids) == 1)  # whose muck it is shows in the animals that are kept
        held = self.on_hand(ids, amount.name)
        settles = amount.sure and len(held) == 1
        if settles and (len(ids) > 1 or self.heard.correcting or amount.more):
            ids = held
        if amount.kind == "none":
            yield HaveNot(held or ids, span)
            return
        if amount.kind == "less" or (amount.kind == "used" and held):
            yield from self.less(amount, held or ids, span)
            return
        self.latest = ids[0]
        holding = (
            Holding(ids[0], amount.quantity, amount.said, self.ails and amount.beside)
            if amount.quantity is not None
            else None
        )
        if len(ids) > 1 or not amount.sure:
            yield Unclear(amount.name, ids[: amount.offered], span, holding)
        elif holding is not None and amount.measured:
            yield Have(holding, span, amount.more)
        else:
            yield Vague(ids[0], amount.name, span, amount.trouble, holding)

    @property
    def ails(self) -> bool:
        """Whether a heap in trouble is spoken of, now or in this line; else all there is is to hand."""
        signs = (fact.name for fact in self.heard.told if fact.name.startswith("sign."))
        return self.context.ails or any(name not in _NO_TROUBLE for name in signs)

    def animals(self) -> set[str]:
        """The animals that are kept, as this line or the talk so far tells."""
        return {*self.context.animals, *animals_kept(self.heard)}

    def less(self, amount: HeardAmount, ids: tuple[str, ...], span: Span) -> Iterator[Intent]:
        """So much less of what there is, or none of it where no amount is said."""
        taken = amount.share if amount.share is not None else amount.quantity
        if taken is not None and len(ids) == 1:
            yield Less(ids[0], taken, span)
        elif taken is None and not amount.trouble:
            yield HaveNot(ids, span)

    def unnamed(self, amount: HeardAmount) -> tuple[str, ...]:
        """What an amount without a name is about: what was spoken of last, or the only material there is."""
        only = self.context.materials[0] if len(self.context.materials) == 1 else ""
        stands_for = amount.said.lower().endswith(_OF_THE_LAST) or self.heard.text[amount.end :].lower().startswith(
            _OF_THE_LAST
        )
        named = self.latest if self.heard.correcting or stands_for else ""
        material = named or self.context.latest or only
        return (material,) if material in self.knowledge.materials else ()

    def unknown_name(self, amount: HeardAmount) -> str:
        """The word that stands where a name would and names nothing: "2 sacks of zorb" is no more of the last thing."""
        following = self.heard.text[amount.end :].split(maxsplit=1)
        word = following[0].strip(_MARKS) if following else ""
        named = amount.said.lower().endswith(" of") and word.lower() not in _STAND_FOR_THE_LAST
        return word if named or word in self.heard.unread else ""

    def on_hand(self, ids: tuple[str, ...], name: str) -> tuple[str, ...]:
        """Those materials on hand that a name may mean: the very one, or kinds of it."""
        held = tuple(id_ for id_ in self.context.materials if id_ in ids)
        if held or not name:
            return held
        keys = tuple(singular(word) for word in fold(name).split())
        exact = materials_index(self.knowledge).exact
        kinds = {id_ for key, named in exact.items() if key[-len(keys) :] == keys for id_ in named}
        roles = {self.knowledge.materials[id_].role for id_ in ids}  # "leaves" are no outer leaves of vegetables
        return tuple(
            id_ for id_ in self.context.materials if id_ in kinds and self.knowledge.materials[id_].role in roles
        )

    # ------------------------------------------------------------ swaps and suppositions

    def swapped(self) -> Iterator[Intent]:
        for swap in self.heard.swaps:
            yield from self.swap(swap)

    def swap(self, swap: HeardSwap) -> Iterator[Intent]:
        span = (swap.start, swap.end)
        held = self.on_hand(swap.old, swap.old_name)
        old = held if len(held) == 1 else swap.old
        unsettled = next(
            ((ids, name) for ids, name in ((old, swap.old_name), (swap.new, swap.new_name)) if len(ids) != 1), None
        )
        if unsettled is None:
            yield Swap(old[0], swap.new[0], span)
        else:
            yield Unclear(unsettled[1], unsettled[0][:6], span)

    def supposed(self) -> list[Intent]:
        """What a line supposes or asks after as if it were so."""
        heard = self.heard
        facts = [fact for fact in heard.facts if fact.stance in ("supposed", "asked")]
        found: list[Intent] = [*self.circumstances(facts), *self.stock("supposed"), *self.ground("supposed")]
        if "what_if" in heard.acts:
            return [*found, *self.swapped()]
        if heard.asked and not heard.doors and not any(question.materials for question in heard.asked):
            asked = [fact for fact in facts if fact.concept.startswith("told-") and fact.name in _SUPPOSABLE]
            return [*self.circumstances(asked), *(one for one in found if isinstance(one, HaveNot | Less))]
        return [one for one in found if isinstance(one, HaveNot | Less)]

    # ------------------------------------------------------------ what is asked

    def asked(self) -> Iterator[Intent]:
        heard = self.heard
        for question in heard.asked:
            if question.act in _OF_MATERIALS:
                for named in question.materials:
                    yield AskMaterial(named.ids[:6], (named.start, named.end))
        said = fold("".join(heard.text.split()))
        for line in self.context.lines:
            if said == fold(line):
                yield AskWhy(line, (0, len(heard.text)))

    def signs(self) -> list[Fact]:
        """What is told to be wrong with a heap."""
        return [fact for fact in self.heard.told if fact.name.startswith("sign.") and fact.name not in _NO_TROUBLE]

    def why(self, door: HeardDoor) -> Iterator[Intent]:
        """Why: of a line of the plan by its name, of a method, or of what the rest of the sentence says."""
        if any(question.act == "ask_why" and question.materials for question in self.heard.asked):
            return
        if self.signs():
            yield Enter("trouble", (door.start, door.end))
            return
        rest = " ".join(word.strip("?!.,;:") for word in self.heard.text[door.end :].split())
        squashed = fold("".join(word for word in rest.split() if word != "line"))
        line = next((name for name in self.context.lines if fold(name) == squashed), "")
        said = " ".join(word for word in fold(rest).split() if word not in _SMALL)
        named = (id_ for id_, one in self.knowledge.methods.items() if said in map(fold, (one.name, *one.aliases)))
        about = line or next(named, "") or (rest if said else "")
        yield AskWhy(about, (door.start, len(self.heard.text)))

    def entered(self) -> Iterator[Intent]:
        signs = self.signs()
        if "trouble" in self.heard.acts and signs and not (self.heard.amounts or self.heard.doors):
            yield Enter("trouble", (signs[0].start, signs[0].end))
        for door in self.heard.doors:
            span = (door.start, door.end)
            if door.request and door.name == "why":
                yield from self.why(door)
            elif door.request:
                yield Ask(cast("Request", door.name), span)
            else:
                yield Enter(cast("Door", door.name), span)


def with_names(heard: Heard) -> list[HeardAmount]:
    """The amounts of a line, one without a name given that of the stuff before it that has none: "leaves, 50 bags"."""
    found: list[HeardAmount] = []
    counted = [one for one in heard.amounts if one.ids and one.quantity is not None]
    for amount in heard.amounts:
        bare = not amount.ids and amount.measured and not amount.name
        before = [one for one in heard.materials if bare and one.end <= amount.start and one.stance == "told"]
        apart = bool(before) and any(sign in _MARKS for sign in heard.text[before[-1].end : amount.start])
        if apart and not any(one.start <= before[-1].start < one.end for one in counted):
            named = before[-1]
            found = [one for one in found if not one.start <= named.start < one.end]
            amount = replace(amount, ids=named.ids, name=named.said, sure=True)
        found.append(amount)
    return found


def _place(intent: Intent) -> tuple[int, int]:
    return intent.span[0], -intent.span[1]

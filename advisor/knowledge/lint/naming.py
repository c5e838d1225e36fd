"""Names: nothing is named twice, and the lists that must agree do."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator

from advisor.knowledge.hints import hint
from advisor.knowledge.lint.tables import MATERIAL_WORDS
from advisor.knowledge.lint.view import Finding, View, named_things


def duplicate_id(view: View) -> Iterator[Finding]:
    """Two rules of one id, or two questions on one attribute; reading sees to materials and notices."""
    first: dict[str, str] = {}
    for rule in view.knowledge.rules:
        if rule.id in first:
            yield view.at_rule(rule, f"this id is taken, in {first[rule.id]}")
        first.setdefault(rule.id, rule.place)
    asked: set[str] = set()
    for question in view.knowledge.questions:
        if question.attribute in asked:
            yield Finding("rules/questions.toml", question.attribute, "is asked twice")
        asked.add(question.attribute)


def alias_twice(view: View) -> Iterator[Finding]:
    """One name for two things, so that nobody can tell which is meant."""
    owners: dict[str, list[tuple[str, str]]] = defaultdict(list)
    for table, name, thing in named_things(view.knowledge):
        for word in dict.fromkeys(map(_spoken, (name, thing.name, *thing.aliases))):
            owners[word].append((table, name))
    for word, ((first_table, first), *others) in owners.items():
        for table, name in others:
            message = f"'{word}' is also a name of {first}, in {view.file_of(first_table, first)}"
            yield Finding(view.file_of(table, name), name, message)


def alias_repeated(view: View) -> Iterator[Finding]:
    """One thing called the same twice, but for hyphens and capitals."""
    for table, name, thing in named_things(view.knowledge):
        said = Counter(map(_spoken, (thing.name, *thing.aliases)))
        for word, times in said.items():
            if times > 1:
                yield Finding(view.file_of(table, name), name, f"is called '{word}' twice")


def _spoken(name: str) -> str:
    return " ".join(name.casefold().replace("-", " ").split())


def unknown_trait(view: View) -> Iterator[Finding]:
    """A material has a trait, role, structure or keeping that facts.toml does not list."""
    kind = view.knowledge.kinds.get("holding")
    for attribute, words_of in MATERIAL_WORDS.items():
        if kind is None or attribute not in kind.attributes:
            continue
        known = kind.attributes[attribute].words
        for name, material in view.knowledge.materials.items():
            for word in words_of(material):
                if word not in known:
                    message = f"holding.{attribute} in facts.toml has no '{word}'; {hint(word, known)}"
                    yield Finding(view.file_of("materials", name), name, message)


def method_words(view: View) -> Iterator[Finding]:
    """facts.toml and methods.toml do not list the same methods."""
    methods = set(view.knowledge.methods)
    for name, extra in (("plan.method", set()), ("holding.barred_from", {"all"})):
        kind, attribute = name.split(".")
        declared = view.knowledge.kinds.get(kind)
        if declared is None or attribute not in declared.attributes:
            continue
        words = set(declared.attributes[attribute].words)
        for missing in sorted((methods | extra) - words):
            yield Finding("rules/facts.toml", name, f"lacks the word '{missing}'")
        for stray in sorted(words - methods - extra):
            yield Finding("rules/facts.toml", name, f"has the word '{stray}', but methods.toml has no such method")

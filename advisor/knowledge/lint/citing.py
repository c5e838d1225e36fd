"""Sources and reasons: everything cites an entry of the bibliography, and says why in words."""

from __future__ import annotations

from collections.abc import Iterator

from advisor.knowledge.answers import cited_by_answers
from advisor.knowledge.hints import hint
from advisor.knowledge.lint.tables import SHORTEST_REASON_WORDS
from advisor.knowledge.lint.view import Finding, View
from advisor.places import rules_folder


def no_source(view: View) -> Iterator[Finding]:
    """Something cites nothing."""
    for file, place, cited in _citing(view):
        if not cited:
            yield Finding(file, place, "cites no source; what the trade does cites 'common-practice'")


def unknown_source(view: View) -> Iterator[Finding]:
    """Something cites what is not in the bibliography."""
    known = view.knowledge.sources
    for file, place, cited in _citing(view):
        for name in dict.fromkeys(cited):
            if name not in known:
                yield Finding(file, place, f"sources.toml has no '{name}'; {hint(name, known)}")


def source_incomplete(view: View) -> Iterator[Finding]:
    """A source that was read or recalled and could not be looked up again by what is said of it."""
    for name, source in view.knowledge.sources.items():
        missing = []
        if source.standing in ("read", "memory") and not source.publisher:
            missing.append("a publisher")
        if source.standing == "read" and source.year is None and not source.undated:
            missing.append("a year (or undated = true)")
        if source.standing == "read" and not (source.place or source.whole):
            missing.append("a place (or whole = true)")
        if missing:
            yield Finding(view.file_of("sources", name), name, f"cannot be looked up: it needs {' and '.join(missing)}")


def unused_source(view: View) -> Iterator[Finding]:
    """The bibliography lists what nothing cites."""
    answers, _ = cited_by_answers(rules_folder())
    used = {name for _, _, cited in _citing(view) for name in cited} | {name for _, cited in answers for name in cited}
    for name in view.knowledge.sources:
        if name not in used:
            yield Finding(view.file_of("sources", name), name, "nothing cites it")


def no_because(view: View) -> Iterator[Finding]:
    """A rule's reason is too short to be one."""
    for rule in view.knowledge.rules:
        if len(rule.because.split()) < SHORTEST_REASON_WORDS:
            yield view.at_rule(rule, f"'{rule.because}' is no reason; say in a sentence why it is so")


def _citing(view: View) -> Iterator[tuple[str, str, tuple[str, ...]]]:
    """File, place and sources of everything that ought to cite."""
    for rule in view.knowledge.rules:
        yield rule.place, rule.id, rule.source
    for kind, named in view.knowledge.notices.items():
        for name, notice in named.items():
            yield (*view.at_notice(kind, name, "")[:2], notice.source)
    for table, things in (
        ("scales", view.knowledge.scales),
        ("green-manures", view.knowledge.green_manures),
        ("crop-families", view.knowledge.crop_families),
        ("guides", view.knowledge.guides),
        ("living-mulches", view.knowledge.living_mulches),
        ("dangers", view.knowledge.danger_answers),
        ("climates", view.knowledge.climates),
    ):
        for name, thing in things.items():
            yield view.file_of(table, name), name, thing.source
    for heat_rule in view.knowledge.heat_rules:
        yield "rules/heat-rules.toml", heat_rule.id, heat_rule.source
    for file, place, figure in view.figures():
        yield file, place, tuple(published.source for published in figure.published)

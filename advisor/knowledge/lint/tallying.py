"""Counting the rule base."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from typing import get_args

from advisor.knowledge.base import Knowledge
from advisor.knowledge.lint.report import Tally
from advisor.knowledge.lint.view import all_figures
from advisor.knowledge.shapes import Evidence, Figure, Source, Standing

_STANDINGS: tuple[Standing, ...] = get_args(Standing)  # best first
_EVIDENCE: tuple[Evidence, ...] = get_args(Evidence)


def tally(knowledge: Knowledge) -> Tally:
    """Count what there is, and how good the sources are."""
    sources = knowledge.sources
    figures = [figure for *_, figure in all_figures(knowledge)]
    values = Counter(best(sources, (published.source for published in figure.published)) for figure in figures)
    rules = Counter(best(sources, rule.source) for rule in knowledge.rules)
    standings = Counter(source.standing for source in sources.values())
    evidence = Counter(rule.evidence for rule in knowledge.rules)
    return Tally(
        materials=len(knowledge.materials),
        measures=len(knowledge.measures),
        methods=len(knowledge.methods),
        notices={kind: len(named) for kind, named in knowledge.notices.items()},
        questions=len(knowledge.questions),
        sources={standing: standings[standing] for standing in _STANDINGS},
        values={standing: values[standing] for standing in _STANDINGS},
        indirect=sum(_is_indirect(figure, sources) for figure in figures),
        undated=sum(source.undated for source in sources.values()),
        readings=sum(len(figure.published) for figure in figures),
        rules={standing: rules[standing] for standing in _STANDINGS},
        by_evidence={kind: evidence[kind] for kind in _EVIDENCE},
        by_group=dict(Counter(rule.group for rule in knowledge.rules)),
    )


def _is_indirect(figure: Figure, sources: Mapping[str, Source]) -> bool:
    """Whether nothing of the best standing that a figure cites is printed of the thing itself, as it stands here."""
    standing = best(sources, (published.source for published in figure.published))
    foremost = [one for one in figure.published if one.source in sources and sources[one.source].standing == standing]
    return bool(foremost) and all(one.group or one.derived for one in foremost)


def best(sources: Mapping[str, Source], cited: Iterable[str]) -> Standing:
    """The best standing among the sources cited; "none" if they are unknown."""
    found = {sources[name].standing for name in cited if name in sources}
    return next((standing for standing in _STANDINGS if standing in found), "none")

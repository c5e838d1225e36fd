"""Questions and the words put before people."""

from __future__ import annotations

from collections.abc import Iterator

from advisor import units
from advisor.knowledge.base import NOTICE_FIELDS
from advisor.knowledge.hints import hint
from advisor.knowledge.lint.tables import ASKED_FOR_THE_PROGRAM
from advisor.knowledge.lint.view import Finding, View
from advisor.knowledge.shapes import Question

_Asked = tuple[str, Question]


def _asked(view: View) -> Iterator[_Asked]:
    """Every question with its file."""
    for question in view.knowledge.questions:
        yield "rules/questions.toml", question
    for question in view.knowledge.sign_questions:
        yield "rules/sign-questions.toml", question


def question_without_attribute(view: View) -> Iterator[Finding]:
    """A question that settles nothing people can answer."""
    answers = _answers(view)
    for file, question in _asked(view):
        if question.attribute not in answers:
            message = f"is no attribute of facts.toml that people answer; {hint(question.attribute, answers)}"
            yield Finding(file, question.attribute, message)


def question_unread(view: View) -> Iterator[Finding]:
    """A question whose answer changes nothing."""
    of_use = {*view.readers, *ASKED_FOR_THE_PROGRAM}
    of_use |= {condition.name for _, when in view.questions for condition in when}
    answers = _answers(view)
    for file, question in _asked(view):
        if question.attribute in answers and question.attribute not in of_use:
            yield Finding(file, question.attribute, "no rule reads the answer, so there is no use in asking")


def unanswerable(view: View) -> Iterator[Finding]:
    """Rules read an answer that nothing asks for."""
    asked = {question.attribute for _, question in _asked(view)}
    for name in _answers(view):
        if name not in asked:
            for rule in view.readers.get(name, ()):
                yield view.at_rule(rule, f"reads {name}, which no question asks")


def unknown_field(view: View) -> Iterator[Finding]:
    """A text with braces that the program cannot fill."""
    for kind, named in view.knowledge.notices.items():
        for name, notice in named.items():
            try:
                wanted = units.fields(notice.say)
            except ValueError as error:
                yield view.at_notice(kind, name, str(error))
                continue
            for field in wanted:
                if field not in NOTICE_FIELDS:
                    yield view.at_notice(kind, name, f"nothing fills {{{field}}}; {hint(field, NOTICE_FIELDS)}")


def guide_unsayable(view: View) -> Iterator[Finding]:
    """A step of a guided check with braces that are no quantity: nothing fills a guide."""
    for name, guide in view.knowledge.guides.items():
        for text in (guide.about, guide.when, *guide.needs, *guide.steps):
            try:
                wanted = units.fields(text)
            except ValueError as error:
                yield Finding("rules/guides.toml", name, str(error))
                continue
            for field in wanted:
                yield Finding("rules/guides.toml", name, f"nothing fills {{{field}}} in a guide")


def living_mulch_unsayable(view: View) -> Iterator[Finding]:
    """A text of a living mulch with braces that are no quantity: nothing fills it."""
    for name, mulch in view.knowledge.living_mulches.items():
        for text in (mulch.start, mulch.keep_down, mulch.takes, mulch.not_where, mulch.end):
            try:
                wanted = units.fields(text)
            except ValueError as error:
                yield Finding("rules/living-mulches.toml", name, str(error))
                continue
            for field in wanted:
                yield Finding("rules/living-mulches.toml", name, f"nothing fills {{{field}}} in a living mulch")


def _answers(view: View) -> list[str]:
    return [
        f"{kind}.{name}"
        for kind, declared in view.knowledge.kinds.items()
        for name, attribute in declared.attributes.items()
        if attribute.origin == "answer"
    ]

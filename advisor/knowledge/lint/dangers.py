"""Dangers and their answers: each danger that can be heard has one, and nothing answers what is never heard."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator, Mapping

from advisor import units
from advisor.knowledge.hints import hint
from advisor.knowledge.lint.view import Finding, View

_FILE = "rules/dangers.toml"


def danger_without_answer(view: View) -> Iterator[Finding]:
    """A kind of danger that can be heard, and that nothing answers."""
    answered = view.knowledge.danger_answers
    for name, (file, kind) in _heard(view).items():
        if kind not in answered and name not in answered:
            yield Finding(file, f"danger.{name}", f"dangers.toml has no answer to the kind '{kind}'")


def answer_without_danger(view: View) -> Iterator[Finding]:
    """An answer to a danger that can't be heard."""
    heard = _heard(view)
    known = {*heard, *(kind for _, kind in heard.values())}
    for name in view.knowledge.danger_answers:
        if name not in known:
            yield Finding(_FILE, name, f"no such danger, nor kind of danger, in rules/words/; {hint(name, known)}")


def danger_unsayable(view: View) -> Iterator[Finding]:
    """An answer with braces that are no quantity: nothing fills it."""
    for name, one in view.knowledge.danger_answers.items():
        for text in (*one.warning, *one.answer, one.followup):
            try:
                wanted = units.fields(text)
            except ValueError as error:
                yield Finding(_FILE, name, str(error))
                continue
            for field in wanted:
                yield Finding(_FILE, name, f"nothing fills {{{field}}} in an answer to a danger")


def _heard(view: View) -> Mapping[str, tuple[str, str]]:
    """The file and the kind of each danger that rules/words/ can hear, by its name."""
    found: dict[str, tuple[str, str]] = {}
    for path in sorted((view.folder / "words").glob("*.toml")):
        try:
            dangers = tomllib.loads(path.read_text(encoding="utf-8")).get("danger", {})
        except (OSError, UnicodeDecodeError, tomllib.TOMLDecodeError):
            continue  # the reader of words says what is wrong with it
        for name, table in dangers.items():
            found[name] = (f"rules/words/{path.name}", str(table.get("kind", name)))
    return found

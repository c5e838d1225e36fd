"""The one module that touches durable-rules 2.0.28, and only in the ways that were shown to be safe.

What it guards against, each held by a test of the engine's edges (tests/inference/test_engine_edges.py):

* two background threads fire rules: the host here starts none;
* a fact that no pattern takes is thrown away: the rule `~hold` takes in every fact and never fires;
* states pile up unless deleted, and deleting one in which nothing ever fired frees memory that was never set:
  there is one state, in which `~open` fires first, and which is deleted after each run;
* a batch with one unreadable fact drops it and the rest in silence: facts are asserted one by one;
* one fact may not meet two patterns of a rule unless the rule says `dist: 0`;
* an action with two parameters is taken for an asynchronous one and never ends: ours have one;
* whatever an action raises, Ctrl-C included, is swallowed: it is kept, and raised when the engine is at rest.
"""

from __future__ import annotations

import logging
from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import Any

from advisor.errors import EngineMissing, InferenceFault
from advisor.inference.compile import Compare, Pattern
from advisor.knowledge.conditions import Value

Message = dict[str, Value]

#: Called when a rule fires, with its name and the id of the fact for each pattern; returns facts to assert.
OnMatch = Callable[[str, Mapping[str, str]], Iterable[Message]]

_INSTALL = (
    "CPPFLAGS=-DPyEval_CallObject=PyObject_CallObject "
    "pip install --force-reinstall --no-deps --no-cache-dir durable-rules==2.0.28"
)
_SID = "0"  # the engine's own default


class Network:
    """Compiled rules with one state. Not for several threads at once: the engine above it holds the lock."""

    def __init__(self, rules: Mapping[str, Sequence[Pattern]], on_match: OnMatch) -> None:
        """Compile. `rules` maps the name of each rule to its patterns.

        Raises:
            EngineMissing: durable-rules is not there, or was built wrongly.
            InferenceFault: the engine refuses the rules.
        """
        self._on_match = on_match
        self._state: int | None = None
        self._opened = False
        self._fault: BaseException | None = None
        definition: dict[str, Any] = {}
        for name, patterns in sorted(rules.items()):
            all_of = [pattern.for_engine() for pattern in patterns]
            action = self._action(name, [pattern.name for pattern in patterns])
            definition[name] = {"all": all_of, "dist": 0, "run": action}
        definition["~open"] = {"all": [{"m": _only("~open")}], "run": self._has_opened}
        never_and_any = [{"never": _only("~never")}, {"m": {"$ex": {"kind": 1}}}]
        definition["~hold"] = {"all": never_and_any, "run": _nothing}
        host = _quiet_host()
        try:
            self._rules = host({"advice": definition}).get_ruleset("advice")
        except Exception as error:
            raise InferenceFault("the engine refuses the rules") from error
        self.open()  # an engine that cannot run should say so now
        self.close()

    def open(self) -> None:
        """Begin a run. Raises InferenceFault."""
        self._fault, self._opened = None, False
        self.tell([{"kind": "~open", "id": "~open"}])
        if not self._opened:
            raise InferenceFault("the engine did not start")

    def tell(self, messages: Iterable[Message]) -> None:
        """Assert facts and let the rules come to rest.

        Raises:
            InferenceFault: the engine refused a fact, or a rule broke; the run can only be closed then.
        """
        for message in messages:
            try:
                self._state = self._rules.assert_fact(message)
            except Exception as error:
                raise InferenceFault(f"the engine refuses a fact: {message.get('kind')}") from error
        ended: list[tuple[BaseException | str | None, Any]] = []
        self._rules.do_actions(self._state, lambda error, state: ended.append((error, state)))
        self._raise_fault(ended)

    def close(self) -> None:
        """End the run and forget everything it was told. Does nothing if none is open."""
        if self._state is not None:
            self._state = None
            self._rules.delete_state(_SID)

    def _action(self, rule: str, names: Sequence[str]) -> Callable[[Any], None]:
        def fire(closure: Any) -> None:
            if self._fault is not None:
                return
            try:
                for follows in self._on_match(rule, {name: getattr(closure, name).id for name in names}):
                    closure.assert_fact(follows)
            except BaseException as error:
                self._fault = error

        return fire

    def _has_opened(self, _: Any) -> None:
        self._opened = True

    def _raise_fault(self, ended: list[tuple[BaseException | str | None, Any]]) -> None:
        error, state = ended[-1] if ended else (RuntimeError("the rules never came to rest"), None)
        fault = self._fault or error or (state or {}).get("exception")
        if isinstance(fault, InferenceFault):
            raise fault
        if isinstance(fault, Exception):
            raise InferenceFault("a rule broke while it was firing") from fault
        if isinstance(fault, BaseException):
            raise fault  # Ctrl-C and its like are no fault of the rules
        if fault:
            raise InferenceFault(f"a rule broke while it was firing: {fault}")


def _only(kind: str) -> dict[str, Any]:
    return Compare("kind", "==", kind).for_engine()


def _nothing(_: Any) -> None:
    """The action of a rule that never fires; the engine wants one, with exactly one parameter."""


def _quiet_host() -> Any:
    try:
        from durable import engine
    except ModuleNotFoundError as error:
        raise EngineMissing("the rule engine is not installed", hint=f"type: {_INSTALL}") from error
    except ImportError as error:
        message = "the rule engine was built without the flag that this Python needs"
        raise EngineMissing(message, hint=f"type: {_INSTALL}") from error
    engine.logger.addHandler(logging.NullHandler())  # what it would log is raised here; nothing may spoil the screen
    return type("QuietHost", (engine.Host,), {"_run": lambda _: None})

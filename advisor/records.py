"""Frozen dataclasses whose methods are written when they are first called.

    from advisor.records import dataclass

    @dataclass(frozen=True, slots=True)
    class Room:
        ...

The standard library writes six methods for such a class and compiles each of them, all while its module is loaded. The
program has more than three hundred such classes and a run uses some dozens: writing them all was half of the time to
the first question of a talk. Here a class has its fields and slots at once. Its methods are the very ones that the
standard library writes, put in at the first call of one of them. Any other dataclass is left to the standard library.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Callable
from typing import TYPE_CHECKING, Any, cast

if TYPE_CHECKING:
    from dataclasses import dataclass as dataclass
else:

    def dataclass(cls: type | None = None, /, **how: bool) -> Any:
        """As in the standard library."""
        if not how.get("frozen") or how.keys() - {"frozen", "slots"}:
            return dataclasses.dataclass(cls, **how)
        return lambda kind: _deferred(kind, slots=how.get("slots", False))


#: What is written together, and how the standard library is told to write that and no more.
_TOGETHER = (
    (("__init__",), {"frozen": True, "repr": False, "eq": False}),
    (("__eq__", "__hash__"), {"unsafe_hash": True, "repr": False, "init": False}),
    (("__repr__",), {"eq": False, "init": False}),
)
_WRITTEN = frozenset(name for names, _ in _TOGETHER for name in names)


def _deferred(kind: type, *, slots: bool) -> type:
    """A class with its fields, and with stand-ins for its methods."""
    if _WRITTEN & vars(kind).keys():  # which of them are its own is for the standard library to judge
        return dataclasses.dataclass(frozen=True, slots=slots)(kind)
    kind.__doc__ = kind.__doc__ or f"A {kind.__name__}."  # or else its signature would be worked out to stand there
    made: Any = dataclasses.dataclass(init=False, repr=False, eq=False, slots=slots)(kind)
    for names, how in _TOGETHER:
        for name in names:
            setattr(made, name, _stand_in(made, name, names, how))
    made.__setattr__, made.__delattr__ = _refuse_to_set, _refuse_to_delete
    if slots:
        made.__getstate__, made.__setstate__ = _values, _take_values
    made.__dataclass_params__ = vars(_Like)["__dataclass_params__"]
    return cast("type", made)


def _stand_in(kind: Any, name: str, names: tuple[str, ...], how: dict[str, bool]) -> Callable[..., Any]:
    """A method that has the real one written, and calls it. Two threads may both come here: they write the same."""

    def method(self: object, *given: Any, **named: Any) -> Any:
        _write(kind, names, how)
        return getattr(kind, name)(self, *given, **named)

    return method


def _write(kind: Any, names: tuple[str, ...], how: dict[str, bool]) -> None:
    """Put some methods into a class: those that the standard library writes for one with the same fields."""
    fields = dataclasses.fields(kind)
    space: dict[str, Any] = {each.name: _again(each) for each in fields}
    space["__annotations__"] = {each.name: each.type for each in fields}
    space["__module__"], space["__doc__"] = kind.__module__, kind.__doc__
    if hasattr(kind, "__post_init__"):
        space["__post_init__"] = kind.__post_init__
    twin: Any = dataclasses.dataclass(**how)(type(kind.__name__, (), space))
    for name in names:
        method = vars(twin)[name]
        method.__qualname__ = f"{kind.__qualname__}.{name}"
        setattr(kind, name, method)


def _again(field: dataclasses.Field[Any]) -> Any:
    told: dict[str, Any] = {
        name: getattr(field, name)
        for name in ("default", "default_factory", "init", "repr", "hash", "compare", "metadata", "kw_only")
    }
    return dataclasses.field(**told)


# ------------------------------------------------------------ the same for every class


@dataclasses.dataclass(frozen=True)
class _Like:
    """What the standard library notes of a frozen class."""


def _refuse_to_set(_: object, name: str, __: object) -> None:
    raise dataclasses.FrozenInstanceError(f"cannot assign to field {name!r}")


def _refuse_to_delete(_: object, name: str) -> None:
    raise dataclasses.FrozenInstanceError(f"cannot delete field {name!r}")


def _values(self: Any) -> tuple[Any, ...]:
    """What is kept of one when it is pickled or copied: the values of its fields, in order."""
    return tuple(getattr(self, name) for name in self.__dataclass_fields__)


def _take_values(self: Any, values: tuple[Any, ...]) -> None:
    put = object.__setattr__
    for name, value in zip(self.__dataclass_fields__, values, strict=True):
        put(self, name, value)

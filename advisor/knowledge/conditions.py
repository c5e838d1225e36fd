"""The small language of conditions in rules/, parsed from Python's own grammar into plain nodes.

A condition compares one attribute of one kind of fact with words or numbers:

    place.space == 'flat'                      place.space in ('flat', 'balcony')
    stock.kitchen_share > 60                   25 <= blend.carbon_nitrogen < 35
    holding.trait == 'mats'                    holding['coffee-grounds'].share > 20
    unknown(place.digging)                     nobody has answered that

All conditions of a rule on the same many-subject kind (`holding`, `method`) speak of the same subject, unless
one is named in brackets. Anything else is refused, with the column.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Collection, Mapping
from typing import NamedTuple

from advisor.knowledge.hints import hint
from advisor.knowledge.shapes import Attribute, Kind

Value = str | float

_OPERATORS: dict[type[ast.cmpop], str] = {
    ast.Eq: "==",
    ast.NotEq: "!=",
    ast.Lt: "<",
    ast.LtE: "<=",
    ast.Gt: ">",
    ast.GtE: ">=",
    ast.In: "in",
}
_MIRRORED = {"<": ">", "<=": ">=", ">": "<", ">=": "<=", "==": "==", "!=": "!="}


class Test(NamedTuple):
    """One comparison of the attribute's value: `values` has one entry, or several for `in`."""

    operator: str
    values: tuple[Value, ...]

    def holds(self, value: Value) -> bool:
        """Whether a value passes. Numbers and words never meet: the registry sees to that at load."""
        if self.operator in ("==", "in"):
            return value in self.values
        if self.operator == "!=":
            return value not in self.values
        bound = self.values[0]
        if isinstance(value, str) or isinstance(bound, str):
            raise TypeError(f"{value!r} {self.operator} {bound!r}")
        return {"<": value < bound, "<=": value <= bound, ">": value > bound, ">=": value >= bound}[self.operator]


class Condition(NamedTuple):
    """Attribute `kind.attribute`, of the subjects named (any subject if none), passes every test.

    With `unknown` set there are no tests: it holds when nobody has told us the attribute.
    """

    kind: str
    attribute: str
    subjects: tuple[str, ...]
    tests: tuple[Test, ...]
    unknown: bool
    text: str

    @property
    def name(self) -> str:
        return f"{self.kind}.{self.attribute}"

    def passes(self, value: Value) -> bool:
        """Whether a value of the attribute passes every test."""
        return all(test.holds(value) for test in self.tests)

    def met_by(self, values: Collection[Value]) -> bool:
        """Whether the values that are known of the attribute meet the condition; unknown() is met by no values."""
        return not values if self.unknown else any(self.passes(value) for value in values)


class ConditionError(ValueError):
    """A condition that cannot be read; `column` counts from 1."""

    def __init__(self, message: str, column: int) -> None:
        super().__init__(message)
        self.column = column


def parse(text: str, kinds: Mapping[str, Kind], subjects: Mapping[str, frozenset[str]]) -> Condition:
    """Read one condition and check it against the declared fact kinds.

    Args:
        text: the condition as written.
        kinds: the fact kinds of facts.toml.
        subjects: for each many-subject kind, the subjects there are.

    Raises:
        ConditionError: it is not in the grammar, or names a kind, attribute, word or number that cannot be.
    """
    # Line breaks become blanks one for one, so that a column still counts characters of the text as written.
    line = re.sub(r"\s", " ", text.rstrip())
    bare = line.lstrip()
    try:
        return _read(bare, text.strip(), kinds, subjects)
    except ConditionError as error:
        before = bare.encode()[: error.column - 1].decode(errors="ignore")  # the grammar counts bytes
        raise ConditionError(str(error), len(line) - len(bare) + len(before) + 1) from None


def _read(bare: str, text: str, kinds: Mapping[str, Kind], subjects: Mapping[str, frozenset[str]]) -> Condition:
    if "\\" in bare:
        raise ConditionError("a condition has no use for a backslash", bare.encode().index(b"\\") + 1)
    try:
        tree = ast.parse(bare, mode="eval").body
    except SyntaxError as error:
        before = bare[: max((error.offset or 1) - 1, 0)]
        raise ConditionError(f"not a condition: {error.msg}", len(before.encode()) + 1) from None
    except (ValueError, MemoryError, RecursionError):
        raise ConditionError("not a condition", 1) from None
    if isinstance(tree, ast.Call):
        return _unknown(tree, text, kinds)
    if not isinstance(tree, ast.Compare):
        raise ConditionError("compare one attribute with a word or a number; one condition a line", tree.col_offset + 1)
    return _comparison(tree, text, kinds, subjects)


def _unknown(tree: ast.Call, text: str, kinds: Mapping[str, Kind]) -> Condition:
    if not (
        isinstance(tree.func, ast.Name) and tree.func.id == "unknown" and len(tree.args) == 1 and not tree.keywords
    ):
        raise ConditionError("the only call is unknown(kind.attribute)", tree.col_offset + 1)
    kind, attribute, named = _reference(tree.args[0], kinds, {})
    declared = kinds[kind].attributes[attribute]
    if declared.origin != "answer" or named:
        raise ConditionError("unknown() takes an attribute that people answer", tree.args[0].col_offset + 1)
    return Condition(kind, attribute, (), (), True, text)


def _comparison(
    tree: ast.Compare, text: str, kinds: Mapping[str, Kind], subjects: Mapping[str, frozenset[str]]
) -> Condition:
    operands: list[ast.expr] = [tree.left, *tree.comparators]
    places = [index for index, node in enumerate(operands) if not _is_constant(node)]
    if len(places) != 1 or len(operands) > 3:
        raise ConditionError("compare exactly one attribute with constants", tree.col_offset + 1)
    middle = places[0]
    if len(operands) == 3 and (middle != 1 or not _runs_one_way(tree.ops)):
        raise ConditionError("a range is written 'low <= kind.attribute < high'", tree.col_offset + 1)
    kind, attribute, named = _reference(operands[middle], kinds, subjects)
    declared = kinds[kind].attributes[attribute]
    tests = []
    for index, operator in enumerate(tree.ops):
        sign = _OPERATORS.get(type(operator))
        if sign is None:
            raise ConditionError("use ==, !=, <, <=, >, >= or in", tree.col_offset + 1)
        attribute_is_left = index == middle
        constant = operands[index + 1] if attribute_is_left else operands[index]
        if not attribute_is_left:
            if sign == "in":
                raise ConditionError("write 'attribute in (…)'", constant.col_offset + 1)
            sign = _MIRRORED[sign]
        tests.append(Test(sign, _constants(constant, sign, declared, f"{kind}.{attribute}")))
    return Condition(kind, attribute, named, tuple(tests), False, text)


def _runs_one_way(signs: list[ast.cmpop]) -> bool:
    return any(all(isinstance(sign, way) for sign in signs) for way in ((ast.Lt, ast.LtE), (ast.Gt, ast.GtE)))


def _reference(
    node: ast.expr, kinds: Mapping[str, Kind], subjects: Mapping[str, frozenset[str]]
) -> tuple[str, str, tuple[str, ...]]:
    column = node.col_offset + 1
    if not isinstance(node, ast.Attribute):
        raise ConditionError("expected kind.attribute", column)
    holder = node.value
    named: tuple[str, ...] = ()
    if isinstance(holder, ast.Subscript):
        named = _subscript(holder.slice)
        holder = holder.value
    if not isinstance(holder, ast.Name):
        raise ConditionError("expected kind.attribute", column)
    kind = kinds.get(holder.id)
    if kind is None:
        raise ConditionError(f"no fact kind '{holder.id}'; {hint(holder.id, kinds)}", column)
    if node.attr not in kind.attributes:
        raise ConditionError(f"'{holder.id}' has no '{node.attr}'; {hint(node.attr, kind.attributes)}", column)
    known = subjects.get(holder.id, frozenset())
    if named and not known:
        raise ConditionError(f"there is only one {holder.id}, so name none in brackets", column)
    for subject in named:
        if subject not in known:
            raise ConditionError(f"no {holder.id} '{subject}'; {hint(subject, sorted(known))}", column)
    return holder.id, node.attr, named


def _subscript(node: ast.expr) -> tuple[str, ...]:
    parts = node.elts if isinstance(node, ast.Tuple) else [node]
    if not parts:
        raise ConditionError("the brackets name nothing", node.col_offset + 1)
    named: list[str] = []
    for part in parts:
        if not (isinstance(part, ast.Constant) and isinstance(part.value, str)):
            raise ConditionError("a subject is a name in quotes", part.col_offset + 1)
        if part.value in named:
            raise ConditionError(f"'{part.value}' is there twice", part.col_offset + 1)
        named.append(part.value)
    return tuple(named)


def _is_constant(node: ast.expr) -> bool:
    if isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.USub):
        node = node.operand
    return isinstance(node, ast.Constant | ast.Tuple)


def _constants(node: ast.expr, sign: str, declared: Attribute, name: str) -> tuple[Value, ...]:
    if isinstance(node, ast.Tuple) != (sign == "in"):
        raise ConditionError(
            "'in' takes several words in brackets, the other signs take one value", node.col_offset + 1
        )
    if not isinstance(node, ast.Tuple):
        return (_constant(node, sign, declared, name),)
    values: list[Value] = []
    for part in node.elts:
        value = _constant(part, sign, declared, name)
        if value in values:
            raise ConditionError(f"'{value}' is there twice", part.col_offset + 1)
        values.append(value)
    if not values:
        raise ConditionError("the brackets are empty, so this never holds", node.col_offset + 1)
    return tuple(values)


def _constant(node: ast.expr, sign: str, declared: Attribute, name: str) -> Value:
    column = node.col_offset + 1
    negative = isinstance(node, ast.UnaryOp)
    inner = node.operand if isinstance(node, ast.UnaryOp) else node
    value = inner.value if isinstance(inner, ast.Constant) else None
    if declared.number is None:
        if not isinstance(value, str) or negative:
            raise ConditionError(f"{name} holds words, not {ast.unparse(node)}", column)
        if sign not in ("==", "!=", "in"):
            raise ConditionError(f"{name} holds words; compare with ==, != or in", column)
        if value not in declared.words:
            raise ConditionError(f"{name} is never '{value}'; {hint(value, declared.words)}", column)
        return value
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise ConditionError(f"{name} holds a number, not {ast.unparse(node)}", column)
    if sign in ("==", "!=", "in"):
        raise ConditionError(f"{name} holds a number; compare with <, <=, > or >=", column)
    number = -float(value) if negative else float(value)
    low, high = declared.number
    if not low <= number <= high:
        raise ConditionError(f"{name} lies between {low:g} and {high:g}; {number:g} is outside", column)
    return number

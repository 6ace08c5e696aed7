"""Where a module can be made wrong, and the module made wrong there."""

from __future__ import annotations

import ast
from collections.abc import Callable, Iterator
from copy import deepcopy
from dataclasses import dataclass

Swap = Callable[[ast.AST], ast.AST | None]

COMPARED: dict[type, type] = {
    ast.Lt: ast.LtE, ast.LtE: ast.Lt, ast.Gt: ast.GtE, ast.GtE: ast.Gt, ast.Eq: ast.NotEq,
    ast.NotEq: ast.Eq, ast.Is: ast.IsNot, ast.IsNot: ast.Is, ast.In: ast.NotIn, ast.NotIn: ast.In,
}  # fmt: skip
REVERSED: dict[type, type] = {ast.Lt: ast.GtE, ast.LtE: ast.Gt, ast.Gt: ast.LtE, ast.GtE: ast.Lt}
RECKONED: dict[type, type] = {
    ast.Add: ast.Sub, ast.Sub: ast.Add, ast.Mult: ast.Div, ast.Div: ast.Mult,
    ast.FloorDiv: ast.Mult, ast.Mod: ast.FloorDiv, ast.BitOr: ast.BitAnd, ast.BitAnd: ast.BitOr,
}  # fmt: skip
CALLED = {"any": "all", "all": "any", "min": "max", "max": "min", "sorted": "list"}


@dataclass(frozen=True)
class Fault:
    """One node of a module and what stands there instead."""

    node: int
    swap: int
    line: int
    within: str
    was: str
    becomes: str

    @property
    def words(self) -> str:
        """What is wrong: the same from run to run, whatever is added above it."""
        return f"{self.within}: {self.was} -> {self.becomes}"


def _compare(swaps: dict[type, type]) -> Swap:
    def swap(node: ast.AST) -> ast.AST | None:
        if not isinstance(node, ast.Compare) or type(node.ops[0]) not in swaps:
            return None
        node.ops[0] = swaps[type(node.ops[0])]()
        return node

    return swap


def _reckon(node: ast.AST) -> ast.AST | None:
    if not isinstance(node, ast.BinOp | ast.AugAssign) or type(node.op) not in RECKONED:
        return None
    node.op = RECKONED[type(node.op)]()
    return node


def _alone(node: ast.AST) -> ast.AST | None:
    """What is added or taken off forgotten."""
    is_sum = isinstance(node, ast.BinOp) and isinstance(node.op, ast.Add | ast.Sub)
    return node.left if is_sum else None


def _join(node: ast.AST) -> ast.AST | None:
    if not isinstance(node, ast.BoolOp):
        return None
    node.op = ast.Or() if isinstance(node.op, ast.And) else ast.And()
    return node


def _drop_condition(node: ast.AST) -> ast.AST | None:
    """One of two conditions forgotten."""
    return node.values[-1] if isinstance(node, ast.BoolOp) else None


def _negate(node: ast.AST) -> ast.AST | None:
    if isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.Not):
        return node.operand
    if isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.USub):
        return node.operand
    if isinstance(node, ast.If | ast.IfExp):
        node.test = ast.UnaryOp(ast.Not(), node.test)
        return node
    return None


def _call(node: ast.AST) -> ast.AST | None:
    if not isinstance(node, ast.Call) or not isinstance(node.func, ast.Name):
        return None
    if node.func.id not in CALLED:
        return None
    node.func.id = CALLED[node.func.id]
    if node.func.id == "list":
        node.keywords = []
    return node


def _constant(node: ast.AST) -> ast.AST | None:
    if not isinstance(node, ast.Constant) or type(node.value) not in (bool, int):
        return None
    node.value = not node.value if isinstance(node.value, bool) else node.value + 1
    return node


def _decimal(node: ast.AST) -> ast.AST | None:
    is_decimal = isinstance(node, ast.Call) and getattr(node.func, "id", "") == "Decimal"
    if not is_decimal or not isinstance(node.args[0], ast.Constant):
        return None
    return ast.BinOp(node, ast.Mult(), ast.Constant(2))


def _forget(node: ast.AST) -> ast.AST | None:
    """A refusal or a call for its effect left out."""
    is_call = isinstance(node, ast.Expr) and isinstance(node.value, ast.Call)
    return ast.Pass() if isinstance(node, ast.Raise) or is_call else None


def _unfiltered(node: ast.AST) -> ast.AST | None:
    """A comprehension without its condition."""
    if not isinstance(node, ast.comprehension) or not node.ifs:
        return None
    node.ifs = []
    return node


SWAPS: tuple[Swap, ...] = (
    _compare(COMPARED), _compare(REVERSED), _reckon, _alone, _join, _drop_condition, _negate, _call,
    _constant, _decimal, _forget, _unfiltered,
)  # fmt: skip


def _meant(tree: ast.AST, within: str = "module") -> Iterator[tuple[ast.AST, str]]:
    """The nodes that do something, with the name of what they are in: no types, no decorators."""
    for field, value in ast.iter_fields(tree):
        if field in ("annotation", "returns", "decorator_list", "type_params"):
            continue
        for node in value if isinstance(value, list) else [value]:
            if not isinstance(node, ast.AST):
                continue
            name = getattr(node, "name", None)
            is_named = isinstance(node, ast.FunctionDef | ast.ClassDef)
            inner = f"{within}.{name}".removeprefix("module.") if is_named else within
            yield node, inner
            yield from _meant(node, inner)


def _words(node: ast.AST) -> str:
    text = " ".join(ast.unparse(node).split())
    return text if len(text) <= 90 else text[:87] + "..."


def faults(source: str) -> list[Fault]:
    """Every fault that can be planted in a source."""
    found = []
    for number, (node, within) in enumerate(_meant(ast.parse(source))):
        for order, swap in enumerate(SWAPS):
            other = swap(deepcopy(node))
            if other is not None and _words(other) != _words(node):
                line = getattr(node, "lineno", 0)
                found.append(Fault(number, order, line, within, _words(node), _words(other)))
    return found


def planted(source: str, fault: Fault) -> str:
    """The source with a fault in it."""
    tree, swap = ast.parse(source), SWAPS[fault.swap]
    aim = next(node for n, (node, _) in enumerate(_meant(tree)) if n == fault.node)
    for parent in ast.walk(tree):
        for field, value in ast.iter_fields(parent):
            if value is aim:
                setattr(parent, field, swap(aim))
            elif isinstance(value, list) and any(one is aim for one in value):
                setattr(parent, field, [swap(one) if one is aim else one for one in value])
    return ast.unparse(ast.fix_missing_locations(tree)) + "\n"

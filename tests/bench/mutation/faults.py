"""The small faults that can be put into a module, found by its syntax tree.

Each is one piece of text replaced: a comparison moved by its boundary or turned round, an
arithmetic or logical operator swapped, a number or truth value changed, a condition negated,
a result left out, a statement left out. Left alone: docstrings, annotations, decorators, words
(strings), what stands in an f-string, a ``strict=True``, and what runs for the type checker only.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from dataclasses import dataclass

COMPARISONS: dict[type[ast.cmpop], tuple[str, tuple[str, ...]]] = {
    ast.Lt: (r"<", ("<=", ">=")),
    ast.LtE: (r"<=", ("<", ">")),
    ast.Gt: (r">", (">=", "<=")),
    ast.GtE: (r">=", (">", "<")),
    ast.Eq: (r"==", ("!=",)),
    ast.NotEq: (r"!=", ("==",)),
    ast.Is: (r"\bis\b", ("is not",)),
    ast.IsNot: (r"\bis\s+not\b", ("is",)),
    ast.In: (r"\bin\b", ("not in",)),
    ast.NotIn: (r"\bnot\s+in\b", ("in",)),
}
ARITHMETIC: dict[type[ast.operator], tuple[str, str]] = {
    ast.Add: (r"\+", "-"),
    ast.Sub: (r"-", "+"),
    ast.Mult: (r"\*", "/"),
    ast.Div: (r"/", "*"),
    ast.FloorDiv: (r"//", "/"),
    ast.Mod: (r"%", "*"),
    ast.Pow: (r"\*\*", "*"),
    ast.BitOr: (r"\|", "&"),
    ast.BitAnd: (r"&", "|"),
}


@dataclass(frozen=True)
class Fault:
    """One fault in one module: bytes ``start`` to ``end`` become ``text``.

    ``where`` is the function it lies in; ``old`` and ``new`` are the lines before and after,
    without their indents.
    """

    path: str
    line: int
    start: int
    end: int
    text: str
    where: str
    old: str
    new: str

    def put_in(self, source: bytes) -> bytes:
        """The module with the fault."""
        return source[: self.start] + self.text.encode() + source[self.end :]

    @property
    def key(self) -> str:
        """What tells it from every other, wherever its line has moved to."""
        return f"{self.path} | {self.where} | {self.old} | {self.new}"


def faults_in(path: str, source: bytes) -> list[Fault]:
    """Every fault of a module, in the order of its text. Raises SyntaxError."""
    finder = _Finder(path, source)
    finder.visit(ast.parse(source))
    by_key = {fault.key: fault for fault in finder.found if _parses(fault, source)}
    return sorted(by_key.values(), key=lambda fault: (fault.start, fault.end, fault.text))


def _parses(fault: Fault, source: bytes) -> bool:
    try:
        ast.parse(fault.put_in(source))
    except SyntaxError:
        return False
    return True


class _Finder(ast.NodeVisitor):
    def __init__(self, path: str, source: bytes) -> None:
        self.path, self.source = path, source
        self.starts = [0]
        for line in source.splitlines(keepends=True):
            self.starts.append(self.starts[-1] + len(line))
        self.found: list[Fault] = []
        self.where: list[str] = []
        self.assigned: list[set[str]] = []

    # --- places and text

    def _span(self, node: ast.expr | ast.stmt) -> tuple[int, int]:
        assert node.end_lineno is not None
        assert node.end_col_offset is not None
        return (
            self.starts[node.lineno - 1] + node.col_offset,
            self.starts[node.end_lineno - 1] + node.end_col_offset,
        )

    def _put(self, start: int, end: int, text: str) -> None:
        first = self.source.rfind(b"\n", 0, start) + 1
        if self.source[first:end].strip() in (b"break", b"continue", b"return"):
            # Told apart from others in the function by what stands before.
            first = self.source.rfind(b"\n", 0, first - 1) + 1
        last = self.source.find(b"\n", end)
        last = len(self.source) if last < 0 else last
        old = self.source[first:last]
        new = self.source[first:start] + text.encode() + self.source[end:last]
        self.found.append(
            Fault(
                self.path,
                self.source.count(b"\n", 0, start) + 1,
                start,
                end,
                text,
                ".".join(self.where),
                " ".join(old.decode().split()),
                " ".join(new.decode().split()),
            )
        )

    def _swap(self, left: ast.expr, right: ast.expr, old: str, news: tuple[str, ...]) -> None:
        start, end = self._span(left)[1], self._span(right)[0]
        match = re.search(old.encode(), self.source[start:end])
        for new in news if match else ():
            assert match is not None
            self._put(start + match.start(), start + match.end(), new)

    def _negate(self, test: ast.expr) -> None:
        start, end = self._span(test)
        self._put(start, end, f"(not ({self.source[start:end].decode()}))")

    # --- what is left alone

    def visit_JoinedStr(self, node: ast.JoinedStr) -> None:
        """Python 3.11 doesn't say where in the file the parts of an f-string lie."""

    def visit_arg(self, node: ast.arg) -> None:
        """An annotation never runs."""

    def visit_keyword(self, node: ast.keyword) -> None:
        if node.arg != "strict":
            self.visit(node.value)

    # --- scopes

    def _inside(self, node: ast.FunctionDef | ast.AsyncFunctionDef | ast.ClassDef) -> None:
        self.where.append(node.name)
        if isinstance(node, ast.ClassDef):
            self.assigned.append(set())
        else:
            for default in (*node.args.defaults, *node.args.kw_defaults):
                if default is not None:
                    self.visit(default)
            self.assigned.append({arg.arg for arg in ast.walk(node) if isinstance(arg, ast.arg)})
        for statement in node.body:
            self.visit(statement)
        self.assigned.pop()
        self.where.pop()

    visit_FunctionDef = visit_AsyncFunctionDef = visit_ClassDef = _inside  # noqa: N815

    # --- statements

    def _leave_out(self, node: ast.stmt) -> None:
        if self.where and self.assigned and not isinstance(node, ast.Pass):
            self._put(*self._span(node), "pass")

    def visit_Expr(self, node: ast.Expr) -> None:
        if isinstance(node.value, ast.Constant):
            return
        if not isinstance(node.value, ast.Yield | ast.YieldFrom):
            self._leave_out(node)
        self.visit(node.value)

    def visit_Assign(self, node: ast.Assign) -> None:
        target = node.targets[0]
        names = {name.id for name in ast.walk(target) if isinstance(name, ast.Name)}
        again = self.assigned and names <= self.assigned[-1]
        if again or isinstance(target, ast.Attribute | ast.Subscript):
            self._leave_out(node)
        if self.assigned:
            self.assigned[-1].update(names)
        self.visit(node.value)

    def visit_AnnAssign(self, node: ast.AnnAssign) -> None:
        if isinstance(node.target, ast.Name) and self.assigned:
            self.assigned[-1].add(node.target.id)
        if node.value is not None:
            self.visit(node.value)

    def visit_AugAssign(self, node: ast.AugAssign) -> None:
        self._leave_out(node)
        start, end = self._span(node.target)[1], self._span(node.value)[0]
        old, new = ARITHMETIC.get(type(node.op), ("", ""))
        match = re.search(old.encode() + b"=", self.source[start:end]) if old else None
        if match:
            self._put(start + match.start(), start + match.end(), f"{new}=")
        self.visit(node.value)

    def visit_Raise(self, node: ast.Raise) -> None:
        self._leave_out(node)

    def visit_Continue(self, node: ast.Continue) -> None:
        self._leave_out(node)

    visit_Break = visit_Continue  # noqa: N815

    def visit_Return(self, node: ast.Return) -> None:
        value = node.value
        if value is None:
            self._leave_out(node)
            return
        # No caller tells a None from a False, and a True is made False below.
        if not (isinstance(value, ast.Constant) and value.value in (None, True, False)):
            self._put(*self._span(value), "None")
        self.visit(value)

    def visit_If(self, node: ast.If) -> None:
        if isinstance(node.test, ast.Name) and node.test.id == "TYPE_CHECKING":
            return
        self._negate(node.test)
        self.generic_visit(node)

    def visit_While(self, node: ast.While) -> None:
        self._negate(node.test)
        self.generic_visit(node)

    # --- expressions

    def visit_IfExp(self, node: ast.IfExp) -> None:
        self._negate(node.test)
        self.generic_visit(node)

    def visit_comprehension(self, node: ast.comprehension) -> None:
        for test in node.ifs:
            self._negate(test)
        self.generic_visit(node)

    def visit_Compare(self, node: ast.Compare) -> None:
        operands = [node.left, *node.comparators]
        for left, right, operator in zip(operands, operands[1:], node.ops, strict=False):
            self._swap(left, right, *COMPARISONS[type(operator)])
        self.generic_visit(node)

    def visit_BinOp(self, node: ast.BinOp) -> None:
        if type(node.op) in ARITHMETIC:
            old, new = ARITHMETIC[type(node.op)]
            self._swap(node.left, node.right, old, (new,))
        self.generic_visit(node)

    def visit_BoolOp(self, node: ast.BoolOp) -> None:
        old, new = ("and", "or") if isinstance(node.op, ast.And) else ("or", "and")
        for left, right in zip(node.values, node.values[1:], strict=False):
            self._swap(left, right, rf"\b{old}\b", (new,))
        self.generic_visit(node)

    def visit_UnaryOp(self, node: ast.UnaryOp) -> None:
        if isinstance(node.op, ast.Not | ast.USub):
            start, end = self._span(node)
            inner = self._span(node.operand)
            self._put(start, end, f"({self.source[inner[0] : inner[1]].decode()})")
        self.visit(node.operand)

    def visit_Constant(self, node: ast.Constant) -> None:
        for text in _other_constants(node.value):
            self._put(*self._span(node), text)


def _other_constants(value: object) -> Iterator[str]:
    if isinstance(value, bool):
        yield str(not value)
    elif isinstance(value, int):
        yield str(value + 1)
        if value > 1:
            yield str(value - 1)
    elif isinstance(value, float):
        yield repr(1.5 * value if value else 1.0)
        if value:
            yield repr(value / 1.5)

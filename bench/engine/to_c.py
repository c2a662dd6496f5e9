"""The engine's kernels as C: a mechanical translation, statement by statement, for the comparison with gcc.

The kernels use a small part of Python (floats, ints, arrays by index, if, while, for over a range), so that every
statement has one C statement. Recording is left out. The C is written beside this file as `_kernels.c`.
"""

from __future__ import annotations

import ast
from pathlib import Path

from hearthold.engine.kernels import layout

KERNELS = Path(layout.__file__).parent
FILES = (
    "decays",
    "house",
    "cold",
    "tank",
    "level",
    "choose",
    "tasks",
    "power",
    "wish",
    "machine",
    "start",
    "loop",
)
CONSTANTS = {k: v for k, v in vars(layout).items() if k.isupper() and isinstance(v, int | float)}
SKIPPED = {"_log_event"}
HEAD = """
#include <math.h>
#include <stdint.h>
typedef struct { double a, b; } pair_t;
static inline double dmin(double a, double b) { return b < a ? b : a; }
static inline double dmax(double a, double b) { return b > a ? b : a; }
static inline long lmin(long a, long b) { return b < a ? b : a; }
static inline long lmax(long a, long b) { return b > a ? b : a; }
static inline double pmod(double a, double b) { double r = fmod(a, b); return r < 0.0 ? r + b : r; }
"""
TAIL = """
void many(const double *restrict w, const int64_t *restrict at, double *states, const double *start,
          const double *length, double *rows, const int64_t *which, long n, long width, long block) {
  long size = at[B_END_];
  #pragma omp parallel for schedule(dynamic, 1)
  for (long first = 0; first < n; first += block) {
    double *s = states + (first / block) * size;
    for (long m = first; m < n && m < first + block; m++) {
      long i = which[m];
      begin(w, at, s, start[i]); wake(w, at, s); advance(w, at, s, length[i]); close_(w, at, s);
      for (long j = 0; j < O_COUNT_; j++) rows[i * width + j] = s[O_FIRST_ + j];
      for (long j = at[B_COLD_]; j < at[B_END_]; j++) rows[i * width + O_COUNT_ + j - at[B_COLD_]] = s[j];
    }
  }
}
"""
C_TYPE = {
    "float": "double", "int": "long", "bool": "int", "None": "void", "Array": "double *restrict",
    "Ints": "const int64_t *restrict",
}  # fmt: skip
OPS = {
    ast.Add: "+", ast.Sub: "-", ast.Mult: "*", ast.Div: "/", ast.Lt: "<", ast.LtE: "<=", ast.Gt: ">", ast.GtE: ">=",
    ast.Eq: "==", ast.NotEq: "!=", ast.And: "&&", ast.Or: "||",
}  # fmt: skip


class Function:
    """One function on its way to C."""

    def __init__(self, node: ast.FunctionDef, returns: dict[str, str], local: dict[str, float]) -> None:
        self.node, self.returns, self.local = node, returns, local
        self.types: dict[str, str] = {}
        self.lines: list[str] = []

    def signature(self) -> str:
        """The C prototype."""
        found = []
        for arg in self.node.args.args:
            kind = ast.unparse(arg.annotation)
            if kind == "Tape":
                continue
            c_type = "const double *restrict" if arg.arg == "w" else C_TYPE[kind]
            self.types[arg.arg] = "int" if kind in ("int", "bool") else "double" if kind == "float" else kind
            found.append(f"{c_type} {arg.arg}")
        kind = ast.unparse(self.node.returns)
        result = "pair_t" if kind.startswith("tuple") else C_TYPE[kind]
        return f"static {result} {name(self.node.name)}({', '.join(found)})"

    def text(self) -> str:
        """The whole function."""
        head = self.signature()
        self.block(self.node.body, 1)
        args = {a.arg for a in self.node.args.args}
        declared = "".join(
            f"  {'long' if kind == 'int' else 'double' if kind == 'double' else 'pair_t'} {name(x)};\n"
            for x, kind in sorted(self.types.items())
            if x not in args
        )
        return head + " {\n" + declared + "\n".join(self.lines) + "\n}\n"

    def put(self, depth: int, line: str) -> None:
        self.lines.append("  " * depth + line)

    def block(self, body: list[ast.stmt], depth: int) -> None:
        for node in body:
            self.statement(node, depth)

    def statement(self, node: ast.stmt, depth: int) -> None:
        """One statement."""
        if isinstance(node, ast.Expr):
            if isinstance(node.value, ast.Call):
                self.put(depth, self.value(node.value) + ";")
        elif isinstance(node, ast.Assign):
            self.assign(node, depth)
        elif isinstance(node, ast.AugAssign):
            self.put(depth, f"{self.value(node.target)} {OPS[type(node.op)]}= {self.value(node.value)};")
        elif isinstance(node, ast.If):
            self.branch(node, depth)
        elif isinstance(node, ast.While):
            self.put(depth, f"while ({self.value(node.test)}) {{")
            self.block(node.body, depth + 1)
            self.put(depth, "}")
        elif isinstance(node, ast.For):
            self.loop(node, depth)
        elif isinstance(node, ast.Return):
            self.give(node, depth)
        elif isinstance(node, ast.Continue | ast.Break):
            self.put(depth, "continue;" if isinstance(node, ast.Continue) else "break;")

    def branch(self, node: ast.If, depth: int) -> None:
        if "recording" in ast.unparse(node.test):
            return
        self.put(depth, f"if ({self.value(node.test)}) {{")
        self.block(node.body, depth + 1)
        self.put(depth, "} else {" if node.orelse else "}")
        if node.orelse:
            self.block(node.orelse, depth + 1)
            self.put(depth, "}")

    def loop(self, node: ast.For, depth: int) -> None:
        i = node.target.id
        self.types[i] = "int"
        ends = [self.value(a) for a in node.iter.args]
        first, last = ends if len(ends) == 2 else ("0", ends[0])
        self.put(depth, f"for ({i} = {first}; {i} < {last}; {i}++) {{")
        self.block(node.body, depth + 1)
        self.put(depth, "}")

    def give(self, node: ast.Return, depth: int) -> None:
        if node.value is None:
            self.put(depth, "return;")
        elif isinstance(node.value, ast.Tuple):
            self.put(depth, f"return (pair_t){{{', '.join(self.value(x) for x in node.value.elts)}}};")
        else:
            self.put(depth, f"return {self.value(node.value)};")

    def assign(self, node: ast.Assign, depth: int) -> None:
        """Plain, chained and tuple assignments; a tuple's right side is read whole before anything is written."""
        if "recording" in ast.unparse(node.targets[0]):
            return
        target = node.targets[0]
        if isinstance(target, ast.Tuple) and isinstance(node.value, ast.Tuple):
            kinds = [self.kind(v) for v in node.value.elts]
            self.put(depth, "{")
            for n, (v, kind) in enumerate(zip(node.value.elts, kinds, strict=True)):
                self.put(depth + 1, f"{'long' if kind == 'int' else 'double'} part_{n} = {self.value(v)};")
            for n, (t, kind) in enumerate(zip(target.elts, kinds, strict=True)):
                self.know(t, kind)
                self.put(depth + 1, f"{self.value(t)} = part_{n};")
            self.put(depth, "}")
        elif isinstance(target, ast.Tuple):
            self.put(depth, f"{{ pair_t pair_ = {self.value(node.value)};")
            for t, part in zip(target.elts, "ab", strict=True):
                self.know(t, "double")
                self.put(depth + 1, f"{self.value(t)} = pair_.{part};")
            self.put(depth, "}")
        else:
            kind = self.kind(node.value)
            for t in node.targets:
                self.know(t, kind)
            self.put(depth, " = ".join(self.value(t) for t in node.targets) + f" = {self.value(node.value)};")

    def know(self, target: ast.expr, kind: str) -> None:
        if isinstance(target, ast.Name):
            known = self.types.get(target.id)
            self.types[target.id] = "double" if known == "double" else kind

    def kind(self, node: ast.expr) -> str:
        """'int', 'double' or 'pair' of an expression."""
        if isinstance(node, ast.Constant):
            return "int" if isinstance(node.value, bool | int) else "double"
        if isinstance(node, ast.Name):
            if node.id in CONSTANTS:
                return "int" if isinstance(CONSTANTS[node.id], int) else "double"
            if node.id in self.local:
                return "double"
            return self.types[node.id]
        if isinstance(node, ast.Subscript):
            return "int" if node.value.id == "at" else "double"
        if isinstance(node, ast.Compare | ast.BoolOp) or (
            isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.Not)
        ):
            return "int"
        if isinstance(node, ast.UnaryOp):
            return self.kind(node.operand)
        if isinstance(node, ast.IfExp):
            return self.either(node.body, node.orelse)
        if isinstance(node, ast.BinOp):
            return "double" if isinstance(node.op, ast.Div) else self.either(node.left, node.right)
        called = node.func.id
        if called == "int":
            return "int"
        if called in ("min", "max"):
            return self.either(*node.args)
        return {"int": "int", "bool": "int", "float": "double"}.get(self.returns.get(called, "float"), "pair")

    def either(self, *nodes: ast.expr) -> str:
        return "double" if any(self.kind(n) == "double" for n in nodes) else "int"

    def value(self, node: ast.expr) -> str:
        """An expression in C."""
        if isinstance(node, ast.Constant):
            return (
                {True: "1", False: "0"}.get(node.value, repr(node.value))
                if isinstance(node.value, bool)
                else repr(node.value)
            )
        if isinstance(node, ast.Name):
            found = CONSTANTS.get(node.id, self.local.get(node.id))
            return name(node.id) if found is None else repr(found)
        if isinstance(node, ast.Subscript):
            return f"{node.value.id}[{self.value(node.slice)}]"
        if isinstance(node, ast.BinOp):
            return self.arithmetic(node)
        if isinstance(node, ast.UnaryOp):
            return f"({'!' if isinstance(node.op, ast.Not) else '-'}{self.value(node.operand)})"
        if isinstance(node, ast.BoolOp):
            return "(" + f" {OPS[type(node.op)]} ".join(self.value(v) for v in node.values) + ")"
        if isinstance(node, ast.Compare):
            parts = [node.left, *node.comparators]
            pairs = zip(parts, node.ops, parts[1:], strict=False)
            return (
                "("
                + " && ".join(f"({self.value(a)} {OPS[type(o)]} {self.value(b)})" for a, o, b in pairs)
                + ")"
            )
        if isinstance(node, ast.IfExp):
            return f"({self.value(node.test)} ? {self.value(node.body)} : {self.value(node.orelse)})"
        return self.call(node)

    def arithmetic(self, node: ast.BinOp) -> str:
        a, b = self.value(node.left), self.value(node.right)
        if isinstance(node.op, ast.Pow):
            return f"({a} * {a})"
        if isinstance(node.op, ast.Mod):
            return f"pmod({a}, {b})"
        if isinstance(node.op, ast.FloorDiv):
            return f"floor({a} / {b})"
        if isinstance(node.op, ast.Div):
            a = f"(double){a}"  # Python divides two ints as floats
        return f"({a} {OPS[type(node.op)]} {b})"

    def call(self, node: ast.Call) -> str:
        called = node.func.id
        args = [self.value(a) for a in node.args if ast.unparse(a) != "tape"]
        if called in ("int", "float"):
            return f"({'long' if called == 'int' else 'double'})({args[0]})"
        if called in ("min", "max"):
            return f"{'d' if self.either(*node.args) == 'double' else 'l'}{called}({', '.join(args)})"
        return f"{'fabs' if called == 'abs' else name(called)}({', '.join(args)})"


def name(python: str) -> str:
    """A C name that no library has."""
    return python + "_" if python in ("close", "stop", "short", "long", "signed") else python


def translated() -> str:
    """The whole C file."""
    functions: list[tuple[ast.FunctionDef, dict[str, float]]] = []
    for file in FILES:
        tree = ast.parse((KERNELS / f"{file}.py").read_text("utf-8"))
        local: dict[str, float] = {}
        for node in tree.body:
            if isinstance(node, ast.Assign) and isinstance(node.value, ast.Constant):
                local[node.targets[0].id] = node.value.value
            elif isinstance(node, ast.Assign) and isinstance(node.value, ast.Tuple):
                local |= {t.id: v.value for t, v in zip(node.targets[0].elts, node.value.elts, strict=True)}
            elif isinstance(node, ast.FunctionDef) and node.name not in (
                *SKIPPED,
                "outcome",
                "simulate_block",
            ):
                functions.append((node, local))
    returns = {node.name: ast.unparse(node.returns) for node, _ in functions}
    made = [Function(node, returns, local) for node, local in functions]
    seen: dict[str, int] = {}
    for f in made:
        seen[f.node.name] = seen.get(f.node.name, 0) + 1
    twice = {n for n, count in seen.items() if count > 1}
    if twice:
        _separate(made, twice, functions)
    heads = "".join(f.signature() + ";\n" for f in made)
    bodies = "\n".join(f.text() for f in made)
    tail = TAIL
    for word in ("B_END", "B_COLD", "O_COUNT", "O_FIRST"):
        tail = tail.replace(f"{word}_", str(CONSTANTS[word]))
    return HEAD + heads + "\n" + bodies + tail


def _separate(made: list[Function], twice: set[str], functions: list) -> None:
    """Helpers of one name in two files: number them, and the calls within the same file."""
    files = {id(local): n for n, local in enumerate({id(x): x for _, x in functions}.values())}
    for f in made:
        suffix = str(files[id(f.local)])
        for node in ast.walk(f.node):
            if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in twice:
                f.returns[node.func.id + suffix] = f.returns[node.func.id]
                node.func.id += suffix
        if f.node.name in twice:
            f.returns[f.node.name + suffix] = f.returns[f.node.name]
            f.node.name += suffix

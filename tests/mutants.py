"""Which small faults in the sums no test would notice: `make mutants`, or `python -m tests.mutants wood`.

Each sign, operator, comparison and number of a module of `passport/physics` is changed, one at a time, in memory alone,
and the test files that import the module are run against it. Prints the survivors and a count. No test; it asserts
nothing.
"""

from __future__ import annotations

import ast
import copy
import gc
import importlib
import multiprocessing
import os
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from types import ModuleType

import hypothesis
import pint
import pytest

from tests.archives import ROOT

PHYSICS = ROOT / "passport" / "physics"
OTHERWISE: dict[type[ast.AST], tuple[type[ast.AST], ...]] = {
    ast.Add: (ast.Sub,),
    ast.Sub: (ast.Add,),
    ast.Mult: (ast.Div,),
    ast.Div: (ast.Mult,),
    ast.FloorDiv: (ast.Mult,),
    ast.Mod: (ast.Mult,),
    ast.Pow: (ast.Mult,),
    ast.MatMult: (ast.Sub,),
    ast.USub: (ast.UAdd,),
    ast.Lt: (ast.LtE, ast.GtE),
    ast.LtE: (ast.Lt, ast.Gt),
    ast.Gt: (ast.GtE, ast.LtE),
    ast.GtE: (ast.Gt, ast.Lt),
    ast.Eq: (ast.NotEq,),
    ast.NotEq: (ast.Eq,),
    ast.Is: (ast.IsNot,),
    ast.IsNot: (ast.Is,),
    ast.And: (ast.Or,),
    ast.Or: (ast.And,),
}
# A number is moved by one part in a hundred, nought and whole numbers by one.
NUDGE = 1.01
CORES = os.cpu_count() or 1
# A mutant that loops for ever is one that was noticed.
PATIENCE_S = 120


@dataclass(frozen=True)
class Mutant:
    """A module with one small fault: where, what the line became, and the tree to run."""

    line: int
    words: str
    tree: ast.Module


def mutants_of(source: str) -> Iterator[Mutant]:
    """Give every mutant of a module, in the order of its text."""
    tree = ast.parse(source)
    for index, node in enumerate(ast.walk(tree)):
        for way in range(_ways(node)):
            changed = copy.deepcopy(tree)
            place = list(ast.walk(changed))[index]
            _change(place, way)
            yield Mutant(_line(place), ast.unparse(place), ast.fix_missing_locations(changed))


def _ways(node: ast.AST) -> int:
    """Count how this one node could be wrong."""
    if isinstance(node, ast.Compare):
        return sum(len(OTHERWISE.get(type(sign), ())) for sign in node.ops)
    if isinstance(node, (ast.BinOp, ast.BoolOp, ast.AugAssign, ast.UnaryOp)):
        return len(OTHERWISE.get(type(node.op), ())) + isinstance(node.op, ast.Not)
    return int(isinstance(node, ast.Constant) and type(node.value) in {int, float, bool})


def _change(node: ast.AST, way: int) -> None:
    """Make the node wrong, in its so-manieth way."""
    match node:
        case ast.Compare():
            every = [(place, sign) for place, old in enumerate(node.ops) for sign in OTHERWISE.get(type(old), ())]
            node.ops[every[way][0]] = every[way][1]()  # type: ignore[call-overload]
        case ast.UnaryOp(op=ast.Not()):
            node.operand = ast.UnaryOp(op=ast.Not(), operand=node.operand)
        case ast.BinOp() | ast.BoolOp() | ast.AugAssign() | ast.UnaryOp():
            node.op = OTHERWISE[type(node.op)][way]()  # type: ignore[assignment]
        case ast.Constant(value=bool() as said):
            node.value = not said
        case ast.Constant(value=float() as number):
            node.value = number * NUDGE if number else 1.0
        case ast.Constant(value=int() as number):
            node.value = number + 1


def _line(node: ast.AST) -> int:
    return int(getattr(node, "lineno", 0))


def noticed(name: str, tree: ast.Module, tests: list[Path]) -> bool:
    """Run a module's tests, in this process, with the module replaced by a mutant; say whether any failed.

    Spoils the process for anything else: ask for it in a process of its own.
    """
    module = ModuleType(name)
    module.__file__ = f"<mutant of {name}>"
    parent, _, last = name.rpartition(".")
    sys.modules[name] = module
    setattr(importlib.import_module(parent), last, module)
    quiet = os.open(os.devnull, os.O_WRONLY)
    for stream in (1, 2):
        os.dup2(quiet, stream)
    try:
        exec(compile(tree, module.__file__, "exec"), module.__dict__)  # noqa: S102 - our own source, one sign changed
    except (ArithmeticError, LookupError, TypeError, ValueError):
        return True
    hypothesis.settings.register_profile("mutants", database=None, derandomize=True, deadline=None, max_examples=40)
    hypothesis.settings.load_profile("mutants")
    plain = ["-x", "-q", "--noconftest", "-p", "no:cacheprovider", "-p", "no:xdist", "--rootdir", str(ROOT)]
    return pytest.main([*plain, *map(str, tests)]) != pytest.ExitCode.OK


def tests_of(stem: str) -> list[Path]:
    """Give the test files of physics that import a module."""
    files = sorted((ROOT / "tests" / "physics").glob("test_*.py"))
    return [file for file in files if f"passport.physics.{stem} import" in file.read_text(encoding="utf-8")]


def survivors(path: Path, tests: list[Path]) -> tuple[int, list[Mutant]]:
    """Give how many mutants a module of physics has and which of them its tests let through."""
    name, source = f"passport.physics.{path.stem}", path.read_text(encoding="utf-8")
    if all(_noticed_apart(name, [ast.parse(source)], tests)):
        raise SystemExit(f"The tests of {path.stem} fail as they are, or are missing: mutants can teach nothing")
    every = list(mutants_of(source))
    left = []
    for start in range(0, len(every), CORES):
        some = every[start : start + CORES]
        for each, found in zip(some, _noticed_apart(name, [mutant.tree for mutant in some], tests), strict=True):
            left += [] if found else [each]
    return len(every), left


def _noticed_apart(name: str, trees: list[ast.Module], tests: list[Path]) -> list[bool]:
    """Say of each whether it was noticed, each in a fork of its own, where all that takes long to import is there."""
    fork = multiprocessing.get_context("fork")
    children = [fork.Process(target=_leave, args=(name, tree, tests)) for tree in trees]
    for child in children:
        child.start()
    for child in children:
        child.join(PATIENCE_S)
        child.kill()
        child.join()
    return [child.exitcode != 0 for child in children]


def _leave(name: str, tree: ast.Module, tests: list[Path]) -> None:
    os._exit(noticed(name, tree, tests))


def main(names: list[str]) -> None:
    """Print, module by module, what nobody would notice."""
    _warm()
    whole = alive = 0
    for path in sorted(PHYSICS.glob("*.py")):
        if path.stem == "__init__" or (names and path.stem not in names):
            continue
        count, left = survivors(path, tests_of(path.stem))
        whole, alive = whole + count, alive + len(left)
        print(f"{path.stem}: {count} mutants, {count - len(left)} noticed", flush=True)  # noqa: T201
        for each in left:
            print(f"  line {each.line}: {each.words}", flush=True)  # noqa: T201
    print(f"{whole} mutants in all, {alive} of them not noticed")  # noqa: T201


def _warm() -> None:
    """Do once, before anything forks, what each run of the tests would do anew: import and read the units."""
    for heavy in ("numpy", "scipy.integrate", "scipy.interpolate", "scipy.optimize", "scipy.stats"):
        importlib.import_module(heavy)
    pint.application_registry.get_base_units("newton")
    gc.freeze()


if __name__ == "__main__":
    main(sys.argv[1:])

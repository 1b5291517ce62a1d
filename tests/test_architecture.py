"""The layout's rules, proven: who may import whom, and what the core never does."""

from __future__ import annotations

import ast
import importlib
import os
import re
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
CORE = sorted((ROOT / "planner").rglob("*.py"))
EDGE = sorted((ROOT / "io" / "planner_io").rglob("*.py"))
SOLVERS = {"ortools", "highspy"}
WORLD = {
    *("planner_io", "pandas", "openpyxl", "xlsxwriter", "typer", "rich", "typst", "sqlite3"),
    *(
        "socket",
        "urllib",
        "http",
        "subprocess",
        "tempfile",
        "shutil",
        "time",
        "os",
        "io",
        "pathlib",
    ),
}
CALLS = {"print", "open", "input", "exec", "eval", ".now", ".today", ".utcnow"}
MOST_LINES = 400


def imports(path: Path) -> Iterator[str]:
    """Every module that a file imports, inside functions too, types alone included."""
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom) and node.module:
            yield node.module
            yield from (f"{node.module}.{alias.name}" for alias in node.names)


def roots(path: Path) -> set[str]:
    return {module.split(".")[0] for module in imports(path)}


def is_tool(path: Path) -> bool:
    """What builds or loads the kernels, the one place of the core that touches files."""
    return path.parent.name == "kernel"


def loaded(statement: str) -> set[str]:
    """Modules in a fresh Python after a statement."""
    code = f"{statement}\nimport sys\nprint('\\n'.join(sys.modules))"
    done = subprocess.run(
        [sys.executable, "-c", code],
        capture_output=True,
        text=True,
        check=True,
        cwd=ROOT,
        env=os.environ | {"PYTHONPATH": os.pathsep.join([str(ROOT), str(ROOT / "io")])},
    )
    return set(done.stdout.split())


def calls(path: Path) -> set[str]:
    """Names of the functions, and `.name` of the methods, that a file calls."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    called = [node.func for node in ast.walk(tree) if isinstance(node, ast.Call)]
    named = {call.id for call in called if isinstance(call, ast.Name)}
    return named | {f".{call.attr}" for call in called if isinstance(call, ast.Attribute)}


def offenders(paths: list[Path], offences: Callable[[Path], set[str]]) -> dict[str, set[str]]:
    """What each file does that it must not."""
    found = {path.relative_to(ROOT).as_posix(): offences(path) for path in paths}
    return {name: offence for name, offence in found.items() if offence}


def test_the_core_does_not_touch_the_world() -> None:
    core = [path for path in CORE if not is_tool(path)]
    assert offenders(core, lambda path: roots(path) & WORLD) == {}


def test_the_core_has_no_files_no_printing_and_no_clock() -> None:
    core = [path for path in CORE if not is_tool(path)]
    assert offenders(core, lambda path: calls(path) & CALLS) == {}


def test_only_cut_lists_and_run_orders_use_solvers() -> None:
    may = ("cutlist", "schedule")
    others = [path for path in (*CORE, *EDGE) if path.relative_to(ROOT).parts[1] not in may]
    assert offenders(others, lambda path: roots(path) & SOLVERS) == {}


def test_the_audit_loads_no_engine_and_no_forming_of_lots() -> None:
    modules = loaded("import planner.audit")
    engines = {"planner.cutlist", "planner.schedule", "planner.lots", "planner.kernel"}
    assert not modules & (engines | SOLVERS)


def test_help_answers_without_loading_anything_heavy() -> None:
    modules = loaded("import planner_io.cli")
    heavy = {"numpy", "pandas", "openpyxl", "xlsxwriter", "typst", "wasmtime", "pint", "numba"}
    heavy |= {"fastapi", "uvicorn", "jinja2", "sqlite3"}
    assert not modules & (heavy | SOLVERS)


@pytest.mark.parametrize("command", ["template", "check", "audit"])
def test_only_the_planning_command_loads_the_engines(command: str) -> None:
    modules = loaded(f"import planner_io.commands.{command}")
    assert not modules & {"planner.cutlist", "planner.schedule", "pandas", "typst", *SOLVERS}


def packages() -> list[str]:
    found = [path.relative_to(ROOT).parent for path in CORE if path.name == "__init__.py"]
    edge = [path.relative_to(ROOT / "io").parent for path in EDGE if path.name == "__init__.py"]
    return [".".join(path.parts) for path in (*found, *edge)]


@pytest.mark.parametrize("name", packages())
def test_what_a_package_offers_is_there_and_in_order(name: str) -> None:
    package = importlib.import_module(name)
    offered: list[str] = getattr(package, "__all__", [])
    assert all(hasattr(package, each) for each in offered)
    assert len(set(offered)) == len(offered)
    assert package.__doc__


def test_files_are_short() -> None:
    def lines(path: Path) -> set[str]:
        count = len(path.read_text(encoding="utf-8").splitlines())
        return {f"{count} lines"} if count > MOST_LINES else set()

    assert offenders([*CORE, *EDGE], lines) == {}


@pytest.mark.parametrize("path", [ROOT / "README.md", *sorted((ROOT / "docs").glob("*.md"))])
def test_commands_in_the_docs_exist(path: Path) -> None:
    from planner_io.command_reference import commands  # noqa: PLC0415 - of this test alone

    text = path.read_text(encoding="utf-8")
    named = set(re.findall(r"\bbrightrun ([a-z]+) (?:[A-Z]|--|[\w./-]+\.xlsx)", text))
    assert named <= set(commands())

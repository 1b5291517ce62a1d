"""`python -m tests`: everything that must hold before a change goes in, in one command.

Format, lint, two type checkers, kernels built anew from their sources, tests with doctests and
drift checks, every demo week planned and audited, and the built wheel installed in a new
environment and tried. Names given on the
command line run those stages alone: `python -m tests lint tests`.
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
import time
import venv
from collections.abc import Callable
from pathlib import Path

from planner_io.console import LEFT_OUT

ROOT = Path(__file__).parent.parent
PYTHON = sys.executable
DEMOS = ROOT / "demo_orders"
CODE = ("planner", "io", "tests", "demo_orders")
BINARIES = "Scripts" if os.name == "nt" else "bin"


def run(*command: str, cwd: Path = ROOT, status: int = 0) -> None:
    """Run one command; another exit status than this one ends the stage."""
    ended = subprocess.run(command, check=False, cwd=cwd).returncode
    if ended != status:
        raise subprocess.CalledProcessError(ended, command)


def format_stage() -> None:
    """Everything is formatted."""
    run(PYTHON, "-m", "ruff", "format", "--check", *CODE)


def lint_stage() -> None:
    """Nothing to find for the linter."""
    run(PYTHON, "-m", "ruff", "check", *CODE)


def mypy_stage() -> None:
    """Types hold for mypy, strictly."""
    run(PYTHON, "-m", "mypy")


def pyright_stage() -> None:
    """Types hold for pyright, strictly."""
    run(PYTHON, "-m", "pyright", "--pythonpath", PYTHON)


def kernels_stage() -> None:
    """The kernels that ship are, byte for byte, what their C sources build."""
    run(PYTHON, "-m", "planner.kernel.build", "--check")


def tests_stage() -> None:
    """Tests, doctests, outside checks, drift checks."""
    run(PYTHON, "-m", "pytest", "--doctest-modules", "-n", str(os.cpu_count() or 1))


def demos_stage() -> None:
    """Every demo week is planned and audited with the command that users type."""
    with tempfile.TemporaryDirectory() as folder:
        try_demos(PYTHON, Path(folder))


def wheel_stage() -> None:
    """The wheel builds, installs in a new environment, and plans a demo week there."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        run(PYTHON, "-m", "build", "--wheel", "--outdir", name)
        venv.create(folder / "env", with_pip=True)
        python = str(folder / "env" / BINARIES / "python")
        constraints = ROOT / ".ci" / "constraints.txt"
        wheel = str(next(folder.glob("*.whl")))
        run(python, "-m", "pip", "install", "-q", wheel, "-c", str(constraints), cwd=folder)
        try_demos(python, folder, weeks=("small",))


def try_demos(python: str, folder: Path, weeks: tuple[str, ...] = ()) -> None:
    """Plan and audit the demo weeks (all of them by default) in `folder`."""
    for name in weeks or ("small", "usual", "messy"):
        book, out = str(DEMOS / f"{name}.xlsx"), str(folder / name)
        keep, status = (("--keep-going",), LEFT_OUT) if name == "messy" else ((), 0)
        plan = (python, "-m", "planner_io", "plan", book, "--out", out, *keep)
        run(*plan, cwd=folder, status=status)
        run(python, "-m", "planner_io", "audit", out, cwd=folder)


STAGES: dict[str, Callable[[], None]] = {
    "format": format_stage,
    "lint": lint_stage,
    "mypy": mypy_stage,
    "pyright": pyright_stage,
    "kernels": kernels_stage,
    "tests": tests_stage,
    "demos": demos_stage,
    "wheel": wheel_stage,
}


def main(names: list[str]) -> int:
    """Run the named stages, or all; 1 when any of them fails, 2 when there is none of a name."""
    unknown = [name for name in names if name not in STAGES]
    if unknown:
        print(f"no stage {', '.join(unknown)}: the stages are {', '.join(STAGES)}")
        return 2
    failed: list[str] = []
    for name in names or STAGES:
        began = time.monotonic()
        print(f"== {name}", flush=True)
        try:
            STAGES[name]()
        except subprocess.CalledProcessError as error:
            failed.append(name)
            print(f"== {name} failed with status {error.returncode}", flush=True)
        else:
            print(f"== {name} passed in {time.monotonic() - began:.0f} s", flush=True)
    print(f"stages: {len(names or STAGES) - len(failed)} passed, {len(failed)} failed")
    return 1 if failed else 0


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))

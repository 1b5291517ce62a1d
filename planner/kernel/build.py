"""Build every kernel's `.wasm` from its `.c` (developers only; needs the `ziglang` package).

`python -m planner.kernel.build` writes them; `--check` rebuilds into a temporary folder
and fails when a shipped file differs from its source.
"""

from __future__ import annotations

import subprocess
import sys
import tempfile
from pathlib import Path

HERE = Path(__file__).parent
FLAGS = [
    *("-target", "wasm32-wasi"),
    "-O3",
    "-mexec-model=reactor",
    "-msimd128",
    "-Wl,--strip-all",
]
BULK, WORDS = ("-mbulk-memory",), ("-mno-bulk-memory", "-mno-bulk-memory-opt")
COPIES = {"knapsack": BULK, "line": BULK, "schedule": WORDS}
"""How each kernel copies memory: by the runtime, which is fast for long rows, or by itself, which
saves the call; annealing copies a few words at a time."""


def compile_kernel(source: Path, target: Path) -> None:
    """Compile one C file to one WebAssembly file; raises CalledProcessError with clang's text."""
    flags = [*FLAGS, *COPIES[source.stem]]
    command = [sys.executable, "-m", "ziglang", "cc", *flags, "-o", str(target), source.name, "-lm"]
    subprocess.run(command, check=True, cwd=source.parent)
    target.chmod(0o644)  # the compiler marks what it links as a program, and this is data


def main(arguments: list[str]) -> int:
    """Write or check all kernels; the exit status is 1 when a check finds a difference."""
    stale: list[str] = []
    for source in sorted(HERE.glob("*.c")):
        shipped = source.with_suffix(".wasm")
        if "--check" not in arguments:
            compile_kernel(source, shipped)
            continue
        with tempfile.TemporaryDirectory() as folder:
            fresh = Path(folder, shipped.name)
            compile_kernel(source, fresh)
            if not shipped.exists() or fresh.read_bytes() != shipped.read_bytes():
                stale.append(shipped.name)
    for name in stale:
        print(f"{name} differs from its source: run python -m planner.kernel.build")
    return 1 if stale else 0


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))

"""Published ordering problems through the shop's own engine.

`python -m tests.benchmarks.sequence DIR [--seconds 10] [--seed 1] [--best FILE]` reads every
`.sop` (TSPLIB95 sequential ordering: G. Reinelt, 1991) and `.instance` (weighted tardiness with
sequence-dependent set-ups: V. A. Cicirello, 2003) file under DIR and prints one row each: name,
value, floor, proven, seconds, and the gap to the best known value where FILE (default:
best_known.json in DIR or beside it) has one.
"""

from __future__ import annotations

import argparse
import json
import re
import statistics
import time
from collections.abc import Iterator
from pathlib import Path

from planner.schedule import (
    Alternative,
    Arc,
    Base,
    Job,
    Operation,
    Problem,
    Result,
    Rule,
    Station,
    Term,
    solve,
)
from planner.stop import Stop

MACHINE = "machine"


def read_sop(text: str) -> Problem:
    """A TSPLIB95 `.sop`: the first node is the start, -1 at (i, j) says that j precedes i.

    The length of a path is the sum of its arcs; no job has a duration. An entry of a million
    bars the arc.
    """
    numbers = [int(n) for n in re.findall(r"-?\d+", text.split("EDGE_WEIGHT_SECTION")[1])]
    n = numbers[0]
    matrix = [numbers[1 + i * n : 1 + (i + 1) * n] for i in range(n)]
    names = [f"n{i}" for i in range(n)]
    minutes = {
        (names[i], names[j]): matrix[i][j]
        for i in range(n)
        for j in range(n)
        if i != j and matrix[i][j] >= 0
    }
    before = {(j, i) for i in range(n) for j in range(n) if matrix[i][j] == -1}
    return Problem(
        bases=(Base(MACHINE, (Rule("node", 1_000_000, minutes),), mounted={"node": names[0]}),),
        stations=(Station(MACHINE),),
        operations=tuple(
            Operation(name, (Alternative(MACHINE, 0),), needs={"node": name}) for name in names[1:]
        ),
        arcs=tuple(Arc(names[a], names[b]) for a, b in sorted(_reduced(before, n)) if a),
        levels=({Term.CHANGEOVER: 1},),
    )


def _reduced(before: set[tuple[int, int]], n: int) -> set[tuple[int, int]]:
    """Precedences that do not follow from others."""
    after = [{b for b in range(n) if (a, b) in before} for a in range(n)]
    return {(a, b) for a, b in before if not any(b in after[mid] for mid in after[a])}


def read_wtsds(text: str) -> Problem:
    """An `.instance`: job -1 is the initial state of the machine."""
    parts = re.split(r"(Process Times|Weights|Duedates|Setup Times):", text)
    values = {
        parts[i]: [int(n) for n in re.findall(r"-?\d+", parts[i + 1])]
        for i in range(1, len(parts), 2)
    }
    rows = values["Setup Times"]
    triples = zip(rows[0::3], rows[1::3], rows[2::3], strict=True)
    minutes = {(f"j{a}", f"j{b}"): m for a, b, m in triples}
    times = values["Process Times"]
    return Problem(
        bases=(Base(MACHINE, (Rule("job", 0, minutes),), mounted={"job": "j-1"}),),
        stations=(Station(MACHINE),),
        operations=tuple(
            Operation(f"j{i}", (Alternative(MACHINE, p),), needs={"job": f"j{i}"})
            for i, p in enumerate(times)
        ),
        jobs=tuple(
            Job(f"j{i}", due, (f"j{i}",), weight)
            for i, (due, weight) in enumerate(
                zip(values["Duedates"], values["Weights"], strict=True)
            )
        ),
        levels=({Term.LATENESS: 1},),
    )


def instances(folder: Path) -> Iterator[tuple[str, str, Problem]]:
    """Kind, name and problem of each file, by name."""
    for path in sorted(folder.rglob("*.sop")):
        yield "sop", path.stem, read_sop(path.read_text(encoding="utf-8"))
    for path in sorted(folder.rglob("*.instance")):
        problem = read_wtsds(path.read_text(encoding="utf-8"))
        yield "wtsds", path.stem.removeprefix("wt_sds_"), problem


def best_known(folder: Path, given: Path | None) -> dict[str, dict[str, int]]:
    """Values by kind and name; empty when there is no file."""
    for path in (given, folder / "best_known.json", folder.parent / "best_known.json"):
        if path is not None and path.exists():
            data = json.loads(path.read_text(encoding="utf-8"))
            return {kind: each["values"] for kind, each in data.items()}
    return {}


def main() -> None:
    """Print a row an instance and a summary for each kind."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("folder", type=Path)
    parser.add_argument("--seconds", type=float, default=10.0)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--best", type=Path)
    parser.add_argument("--only", default="")
    options = parser.parse_args()
    known = best_known(options.folder, options.best)
    rows: dict[str, list[tuple[int, int | None]]] = {}
    print(
        f"{'name':<14}{'value':>9}{'floor':>9} {'proven':<7}{'seconds':>8}{'best':>9}{'gap %':>8}"
    )
    for kind, name, problem in instances(options.folder):
        if options.only and options.only not in f"{kind}/{name}":
            continue
        began = time.perf_counter()
        result = solve(problem, Stop(), options.seed, seconds=options.seconds)
        took = time.perf_counter() - began
        rows.setdefault(kind, []).append(_row(kind, name, result, known, took))
    for kind, values in rows.items():
        _summary(kind, values)


def _row(
    kind: str, name: str, result: Result, known: dict[str, dict[str, int]], took: float
) -> tuple[int, int | None]:
    value, best = result.figures.levels[0], known.get(kind, {}).get(name)
    floor = result.floor(Term.CHANGEOVER if kind == "sop" else Term.LATENESS)
    proven = "yes" if floor == value else "no"
    gap = "" if best is None else f"{_gap(value, best):.2f}"
    known_value = "-" if best is None else str(best)
    print(
        f"{name:<14}{value:>9}{floor:>9} {proven:<7}{took:>8.1f}{known_value:>9}{gap:>8}",
        flush=True,
    )
    return value, best


def _gap(value: int, best: int) -> float:
    return 100.0 * (value - best) / max(1, best)


def _summary(kind: str, values: list[tuple[int, int | None]]) -> None:
    pairs = [(value, best) for value, best in values if best is not None]
    gaps = [_gap(value, best) for value, best in pairs if best > 0]
    zeros = [value for value, best in pairs if best == 0]
    hits = sum(value <= best for value, best in pairs)
    if pairs:
        print(
            f"{kind}: {hits} of {len(pairs)} at best known; "
            f"gap mean {statistics.mean(gaps):.2f} %, "
            f"median {statistics.median(gaps):.2f} %, most {max(gaps):.2f} %; "
            f"{sum(value == 0 for value in zeros)} of {len(zeros)} zeros found"
        )


if __name__ == "__main__":
    main()

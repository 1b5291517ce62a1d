"""Cutting stock with one stick length: one row an instance.

`python -m tests.benchmarks.cutlist DIR [--seconds 10]` reads every text file below DIR: the
number of different lengths, the stick length, then rows `length quantity` (a row without a
quantity is one piece). Without DIR it makes instances from published descriptions; `--classes`
picks some. Columns: name, value (sticks), floor, proven, seconds, core-seconds, the step that
ended the search, peak memory in MB. `--cores` counts the limit in core-seconds, which is fair
on a machine that is busy with other work.
"""

from __future__ import annotations

import argparse
import resource
import time
from collections.abc import Iterator
from pathlib import Path

from planner.cutlist import Demand, Problem, Result, StockKind, solve
from planner.stop import Stop
from tests.benchmarks.cutlist_instances import CLASSES, Instance, generated


def read(path: Path) -> Instance:
    """One instance from a file; raises ValueError naming the file and what is wrong."""
    lines = [line.split() for line in path.read_text().splitlines() if line.strip()]
    try:
        head = [int(word) for line in lines[:2] for word in line]
        rows = lines[2:] if len(lines[0]) == 1 else lines[1:]
        stick = head[1]
        pieces = [(int(row[0]), int(row[1]) if len(row) > 1 else 1) for row in rows]
    except (ValueError, IndexError) as error:
        raise ValueError(f"{path}: expected whole numbers, two then `length quantity`") from error
    if head[0] != len(pieces):
        raise ValueError(f"{path}: announces {head[0]} lengths but lists {len(pieces)}")
    joined: dict[int, int] = {}
    for length, quantity in pieces:
        joined[length] = joined.get(length, 0) + quantity
    return Instance(path.stem, stick, tuple(sorted(joined.items(), reverse=True)))


def as_problem(instance: Instance) -> Problem:
    """Sticks cost one cent each, so that the cost is their number."""
    demands = tuple(Demand(str(length), length, count) for length, count in instance.pieces)
    return Problem(demands, (StockKind("stick", instance.stick, 1),))


def timed(instance: Instance, stop: Stop, seed: int) -> tuple[Result, float, float]:
    """The result, the seconds that passed, and those that this process had a core for."""
    start, start_cpu = time.perf_counter(), time.process_time()
    result = solve(as_problem(instance), stop, seed)
    return result, time.perf_counter() - start, time.process_time() - start_cpu


def instances(folder: Path | None, classes: list[str]) -> Iterator[Instance]:
    if folder is None:
        yield from generated(classes)
        return
    for path in sorted(folder.rglob("*")):
        if path.is_file() and path.suffix in {".txt", ".bpp", ".csp", ""}:
            yield read(path)


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("folder", type=Path, nargs="?")
    parser.add_argument("--seconds", type=float, default=10.0)
    parser.add_argument("--seed", type=int, default=0)
    parser.add_argument("--classes", nargs="*", default=list(CLASSES))
    parser.add_argument("--cores", action="store_true")
    options = parser.parse_args()
    clock = time.process_time if options.cores else time.perf_counter
    rows: list[tuple[bool, float]] = []
    print(f"{'name':28} {'value':>7} {'floor':>7} {'proven':6} {'seconds':>8} {'cpu':>6} stage")
    for instance in instances(options.folder, options.classes):
        result, seconds, cpu = timed(instance, Stop(options.seconds, clock), options.seed)
        proven = result.gap_cents == 0
        rows.append((proven, cpu))
        peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024
        print(
            f"{instance.name:28} {result.cost_cents:7} {result.bound_cents:7} "
            f"{'yes' if proven else 'no':6} {seconds:8.2f} {cpu:6.2f} {result.stage} ({peak} MB)",
            flush=True,
        )
        if instance.known is not None and result.bound_cents > instance.known:
            raise AssertionError(f"{instance.name}: floor above the known optimum")
    closed = [cpu for proven, cpu in rows if proven]
    slowest = max(closed, default=0.0)
    print(f"{len(closed)} of {len(rows)} proven, slowest of these {slowest:.2f} core-seconds")


if __name__ == "__main__":
    main()

"""Published ordering problems through the shop's own engine.

`python -m tests.benchmarks.sequence DIR [--seconds 10] [--seed 1] [--best FILE]` reads every
`.sop` (TSPLIB95 sequential ordering: G. Reinelt, 1991) and `.instance` (weighted tardiness with
sequence-dependent set-ups: V. A. Cicirello, 2003) file under DIR and prints one row each: name,
value, floor, proven, seconds, and the gap to the best known value where FILE (default:
best_known.json in DIR, beside it, or beside this program) has one. `?` marks a best known value
that FILE calls unverified. A broken file is told in one line and left out; the exit status is 1
then.
"""

from __future__ import annotations

import argparse
import json
import statistics
import sys
import time
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from planner.errors import InputError
from planner.schedule import Result, Term, solve
from planner.stop import Stop
from tests.benchmarks.sequence_files import read_file

FILE = "best_known.json"


def instances(folder: Path) -> Iterator[tuple[str, str, Path]]:
    """Kind, name and place of each file, by name."""
    for path in sorted(folder.rglob("*.sop")):
        yield "sop", path.stem, path
    for path in sorted(folder.rglob("*.instance")):
        yield "wtsds", path.stem.removeprefix("wt_sds_"), path


@dataclass(frozen=True, slots=True)
class Known:
    """Best known values of one kind, where they are from, and whether anybody checked them."""

    source: str
    values: dict[str, int]
    unverified: bool = False


def best_known(folder: Path, given: Path | None) -> dict[str, Known]:
    """By kind, from the first file that exists."""
    beside = (folder / FILE, folder.parent / FILE, Path(__file__).with_name(FILE))
    path = next(path for path in ((given,) if given else beside) if path.exists())
    data = json.loads(path.read_text(encoding="utf-8"))
    return {
        kind: Known(each["source"], each["values"], "unverified" in str(each).lower())
        for kind, each in data.items()
    }


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
    rows: dict[str, list[Row]] = {}
    print(
        f"{'name':<14}{'value':>9}{'floor':>9} {'proven':<7}{'seconds':>8}{'best':>10}{'gap %':>8}"
    )
    broken = False
    for kind, name, path in instances(options.folder):
        if options.only and options.only not in f"{kind}/{name}":
            continue
        began = time.perf_counter()
        try:
            result = solve(read_file(path), Stop(), options.seed, seconds=options.seconds)
        except InputError as error:
            print(error, file=sys.stderr)
            broken = True
            continue
        row = _row(kind, name, result, known.get(kind), time.perf_counter() - began)
        rows.setdefault(kind, []).append(row)
        print(row, flush=True)
    for kind, values in rows.items():
        _summary(kind, values, known.get(kind))
    if broken:
        raise SystemExit(1)


@dataclass(frozen=True, slots=True)
class Row:
    """What became of one instance; `best` is None where no value is known."""

    name: str
    value: int
    floor: int
    seconds: float
    best: int | None
    unverified: bool

    @property
    def gap(self) -> float:
        """Above the best known value, in % of it."""
        best = self.value if self.best is None else self.best
        return 100.0 * (self.value - best) / max(1, best)

    def __str__(self) -> str:
        proven = "yes" if self.floor == self.value else "no"
        gap = "" if self.best is None else f"{self.gap:.2f}"
        best = "-" if self.best is None else f"{self.best}{'?' if self.unverified else ' '}"
        return (
            f"{self.name:<14}{self.value:>9}{self.floor:>9} {proven:<7}{self.seconds:>8.1f}"
            f"{best:>10}{gap:>8}"
        )


def _row(kind: str, name: str, result: Result, known: Known | None, took: float) -> Row:
    return Row(
        name=name,
        value=result.figures.levels[0],
        floor=result.floor(Term.CHANGEOVER if kind == "sop" else Term.LATENESS),
        seconds=took,
        best=known.values.get(name) if known else None,
        unverified=known is not None and known.unverified,
    )


def _summary(kind: str, rows: list[Row], known: Known | None) -> None:
    """Gaps count where the best known value is not zero; zeros are found or not."""
    against = [row for row in rows if row.best is not None]
    gaps = [row.gap for row in against if row.best]
    zeros = [row for row in against if row.best == 0]
    print(f"{kind}: {len(rows)} run, {len(rows) - len(against)} without a best known value")
    if known is None or not against:
        return
    hits = sum(row.gap <= 0 for row in against)
    print(f"  {hits} of {len(against)} at best known ({sum(g < 0 for g in gaps)} below it)")
    if gaps:
        print(
            f"  gap mean {statistics.mean(gaps):.2f} %, median {statistics.median(gaps):.2f} %, "
            f"most {max(gaps):.2f} %, over 5 %: {sum(gap > 5 for gap in gaps)}"
        )
    if zeros:
        print(f"  {sum(row.value == 0 for row in zeros)} of {len(zeros)} zeros found")
    print(f"  best known{' (UNVERIFIED)' if known.unverified else ''}: {known.source}")


if __name__ == "__main__":
    main()

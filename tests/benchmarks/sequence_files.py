"""Files of published ordering problems, read as the shop's own.

Both readers take any line ends, blank lines, tabs and wrapped numbers, and headers in any order;
what a file lacks or has too much of is one `InputError` with the file and the line.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path
from typing import NoReturn

from planner.errors import input_error
from planner.schedule import Alternative, Arc, Base, Job, Operation, Problem, Rule, Station, Term

MACHINE = "machine"
BARRED = 1_000_000
"""An entry of so much or more bars the arc."""
AFTER = -1
"""An entry (i, j) that says that j precedes i."""


def read_file(path: Path) -> Problem:
    """The problem in a `.sop` or `.instance` file; raises InputError where it is broken."""
    text = path.read_text(encoding="utf-8-sig", errors="replace")
    return (read_sop if path.suffix == ".sop" else read_wtsds)(text, path.name)


def read_sop(text: str, name: str = "file") -> Problem:
    """A TSPLIB95 `.sop`: the first node is the start, -1 at (i, j) says that j precedes i.

    The length of a path is the sum of its arcs; no job has a duration. An entry of a million or
    more bars the arc. The number of nodes may stand before the matrix or not.
    """
    words = _words(text, name)
    header, matrix_words = _split(words, "EDGE_WEIGHT_SECTION", name)
    form = _value(header, "EDGE_WEIGHT_FORMAT")
    if form is not None and form.text.upper() != "FULL_MATRIX":
        _fail(name, form.line, f"EDGE_WEIGHT_FORMAT is {form.text}", "a FULL_MATRIX")
    numbers = _numbers(matrix_words, name)
    n = _nodes(header, numbers, name)
    rows = [[each.number for each in numbers[i * n : (i + 1) * n]] for i in range(n)]
    for i, each in enumerate(numbers):
        if each.number < AFTER:
            place = f"row {i // n + 1}, column {i % n + 1}"
            _fail(name, each.line, f"{each.number} in {place}", "-1 or minutes of 0 or more")
        if i < n and i and each.number == AFTER:
            _fail(name, each.line, f"node {i + 1} precedes the first", "the first as the start")
    return _sop_problem(rows)


def _nodes(header: Sequence[_Word], numbers: list[_Number], name: str) -> int:
    """How many nodes there are; a number of them before the matrix is taken away."""
    said = _value(header, "DIMENSION")
    if said is not None and not said.text.isdigit():
        _fail(name, said.line, f"DIMENSION is {said.text}", "the number of nodes")
    n = int(said.text) if said is not None else numbers[0].number
    if numbers[0].number == n:  # the matrix itself begins with 0
        del numbers[0]
    if n < 2 or len(numbers) != n * n:
        line = numbers[-1].line if numbers else 1
        _fail(name, line, f"{len(numbers)} entries end here", f"{n} x {n} of them, {n * n}")
    return n


def _sop_problem(rows: Sequence[Sequence[int]]) -> Problem:
    n = len(rows)
    names = [f"n{i}" for i in range(n)]
    minutes = {
        (names[i], names[j]): rows[i][j]
        for i in range(n)
        for j in range(n)
        if i != j and 0 <= rows[i][j] < BARRED
    }
    before = {(j, i) for i in range(n) for j in range(n) if i != j and rows[i][j] == AFTER}
    return Problem(
        bases=(Base(MACHINE, (Rule("node", BARRED, minutes),), mounted={"node": names[0]}),),
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


SECTIONS = {
    "times": r"process(?:ing)?\s*times",
    "weights": r"weights",
    "dues": r"due\s*-?\s*dates",
    "setups": r"set\s*-?\s*up\s*times",
}
"""The sections of an `.instance`, each a line of its own that may end in a colon."""


def read_wtsds(text: str, name: str = "file") -> Problem:
    """An `.instance`: job -1 is the initial state of the machine."""
    parts = {key: _numbers(words, name) for key, words in _sections(text, name).items()}
    n = len(parts["times"])
    for key in ("weights", "dues"):
        if len(parts[key]) != n:
            line = parts[key][-1].line
            _fail(name, line, f"{len(parts[key])} {key} end here", f"one for each of {n} jobs")
    minutes = _setups(parts["setups"], n, name)
    times, dues, weights = ([e.number for e in parts[k]] for k in ("times", "dues", "weights"))
    for key in ("times", "weights"):
        for each in parts[key]:
            if each.number < 0:
                _fail(name, each.line, f"{each.number} among the {key}", "0 or more")
    return Problem(
        bases=(Base(MACHINE, (Rule("job", 0, minutes),), mounted={"job": "j-1"}),),
        stations=(Station(MACHINE),),
        operations=tuple(
            Operation(f"j{i}", (Alternative(MACHINE, p),), needs={"job": f"j{i}"})
            for i, p in enumerate(times)
        ),
        jobs=tuple(
            Job(f"j{i}", due, (f"j{i}",), weight)
            for i, (due, weight) in enumerate(zip(dues, weights, strict=True))
        ),
        levels=({Term.LATENESS: 1},),
    )


def _sections(text: str, name: str) -> dict[str, list[_Word]]:
    """The words of each section, from its heading to the next."""
    found: dict[str, list[_Word]] = {}
    current: list[_Word] = []
    for number, line in enumerate(text.splitlines(), 1):
        stripped = line.strip()
        heading = next(
            (k for k, form in SECTIONS.items() if re.fullmatch(form + r"\s*:?", stripped, re.I)), ""
        )
        if heading in found:
            _fail(name, number, f"a second heading {stripped}", "each section once")
        if heading:
            current = found[heading] = []
        elif re.match(r"(begin|end)\b", stripped, re.I):
            current = []
        else:
            current += [_Word(word, number) for word in stripped.split()]
    missing = [key for key in SECTIONS if not found.get(key)]
    if missing:
        last = len(text.splitlines())
        _fail(name, last, f"no {' and no '.join(missing)}", "times, weights, dues and setups")
    return found


def _setups(numbers: Sequence[_Number], n: int, name: str) -> dict[tuple[str, str], int]:
    """Minutes from job to job, each pair once; from a job to itself is left out."""
    minutes: dict[tuple[int, int], int] = {}
    for k in range(0, len(numbers) - 2, 3):
        before, after, each = (number.number for number in numbers[k : k + 3])
        line = numbers[k].line
        if not (-1 <= before < n and 0 <= after < n and each >= 0):
            _fail(name, line, f"{before} {after} {each}", f"jobs below {n} and minutes, 0 or more")
        if (before, after) in minutes:
            _fail(name, line, f"jobs {before} and {after} again", "each pair once")
        minutes[before, after] = each
    pairs = [(i, j) for i in range(-1, n) for j in range(n) if i != j]
    gap = next((pair for pair in pairs if pair not in minutes), None)
    if gap is not None or len(numbers) % 3:
        what = f"no minutes from job {gap[0]} to job {gap[1]}" if gap else "half an entry"
        _fail(name, numbers[-1].line, what, "job, job and minutes for every pair")
    return {(f"j{a}", f"j{b}"): each for (a, b), each in minutes.items() if a != b}


@dataclass(frozen=True, slots=True)
class _Word:
    text: str
    line: int


@dataclass(frozen=True, slots=True)
class _Number:
    number: int
    line: int


def _words(text: str, name: str) -> list[_Word]:
    words = [
        _Word(word, number)
        for number, line in enumerate(text.splitlines(), 1)
        if not re.match(r"\s*(COMMENT|NAME)\b", line, re.I)
        for word in line.replace(":", " ").split()
    ]
    if not words:
        _fail(name, 1, "nothing", "an ordering problem")
    return words


def _split(words: list[_Word], heading: str, name: str) -> tuple[list[_Word], list[_Word]]:
    at = next((i for i, word in enumerate(words) if word.text.upper() == heading), None)
    if at is None:
        _fail(name, words[-1].line, f"no {heading}", f"the matrix after {heading}")
    end = next((i for i, w in enumerate(words) if i > at and w.text.upper() == "EOF"), len(words))
    if end == at + 1:
        _fail(name, words[at].line, f"nothing after {heading}", "the matrix")
    return words[:at], words[at + 1 : end]


def _value(header: Sequence[_Word], key: str) -> _Word | None:
    return next((b for a, b in pairwise(header) if a.text.upper() == key), None)


def _numbers(words: Iterable[_Word], name: str) -> list[_Number]:
    numbers: list[_Number] = []
    for word in words:
        if not re.fullmatch(r"[+-]?\d+", word.text):
            _fail(name, word.line, word.text, "a whole number")
        numbers.append(_Number(int(word.text), word.line))
    return numbers


def _fail(name: str, line: int, read: str, expected: str) -> NoReturn:
    raise input_error(f"{name}, line {line}: read {read}; expected {expected}")

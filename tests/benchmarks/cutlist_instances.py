"""One-length cutting-stock instances made from published descriptions.

Uniform and triplets: E. Falkenauer, Journal of Heuristics 2 (1996). Schwerin: P. Schwerin and
G. Wäscher, International Transactions in Operational Research 4 (1997). Scholl 1-3: A. Scholl,
R. Klein and C. Jürgens, Computers & Operations Research 24 (1997). Wäscher-type: the generator
CUTGEN1 of T. Gau and G. Wäscher, EJOR 84 (1995), at the stick length 10,000 of their hard
instances. Hard: pieces between 1 and 800 of 1000 in the numbers of J. Schoenfield's report (2002),
without his selection of the hardest. Augmented: after M. Delorme, M. Iori and S. Martello,
EJOR 255 (2016), items in groups of three that fill a stick exactly, added to a small core.
"""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass


@dataclass(frozen=True)
class Instance:
    """Pieces to cut from sticks of one length; `known` is the optimum if the maker knows it."""

    name: str
    stick: int
    pieces: tuple[tuple[int, int], ...]
    known: int | None = None


def from_list(name: str, stick: int, lengths: list[int], known: int | None = None) -> Instance:
    """An instance from single pieces."""
    pieces = sorted(Counter(lengths).items(), reverse=True)
    return Instance(name, stick, tuple(pieces), known)


def uniform(dice: random.Random, number: int, items: int) -> Instance:
    lengths = [dice.randint(20, 100) for _ in range(items)]
    return from_list(f"uniform-{items}-{number}", 150, lengths)


def triplets(dice: random.Random, number: int, items: int) -> Instance:
    lengths: list[int] = []
    for _ in range(items // 3):
        first = dice.randint(380, 490)
        second = dice.randint(250, (1000 - first) // 2)
        lengths += [first, second, 1000 - first - second]
    return from_list(f"triplets-{items}-{number}", 1000, lengths, items // 3)


def schwerin(dice: random.Random, number: int, items: int) -> Instance:
    lengths = [dice.randint(150, 200) for _ in range(items)]
    return from_list(f"schwerin-{items}-{number}", 1000, lengths)


def scholl_1(dice: random.Random, number: int, items: int) -> Instance:
    stick, low = dice.choice([100, 120, 150]), dice.choice([1, 20, 30])
    lengths = [dice.randint(low, 100) for _ in range(items)]
    return from_list(f"scholl1-{items}-{number}", stick, lengths)


def scholl_2(dice: random.Random, number: int, items: int) -> Instance:
    mean, spread = 1000 / dice.choice([3, 5, 7, 9]), dice.choice([0.2, 0.5, 0.9])
    low, high = round(mean * (1 - spread)), round(mean * (1 + spread))
    lengths = [dice.randint(low, high) for _ in range(items)]
    return from_list(f"scholl2-{items}-{number}", 1000, lengths)


def scholl_3(dice: random.Random, number: int, items: int) -> Instance:
    lengths = [dice.randint(20_000, 35_000) for _ in range(items)]
    return from_list(f"scholl3-{items}-{number}", 100_000, lengths)


def waescher(dice: random.Random, number: int, items: int) -> Instance:
    low, high = dice.choice([(1, 7_500), (1, 5_000), (500, 5_000), (10, 2_500)])
    lengths = [dice.randint(low, high) for _ in range(items)]
    return from_list(f"waescher-{items}-{number}", 10_000, lengths)


def hard(dice: random.Random, number: int, items: int) -> Instance:
    lengths = [dice.randint(1, 800) for _ in range(items)]
    return from_list(f"hard-{items}-{number}", 1000, lengths)


def augmented(dice: random.Random, number: int, items: int) -> Instance:
    """Every stick must be filled exactly; groups of three with widely spread lengths."""
    stick = 2500
    lengths: list[int] = []
    while len(lengths) < items:
        first = dice.randint(stick // 50, stick // 2)
        second = dice.randint(stick // 50, (stick - first) - stick // 50)
        lengths += [first, second, stick - first - second]
    return from_list(f"augmented-{items}-{number}", stick, lengths, len(lengths) // 3)


Maker = Callable[[random.Random, int, int], Instance]
CLASSES: dict[str, tuple[Maker, tuple[int, ...], int]] = {
    "uniform": (uniform, (120, 250, 500, 1000), 5),
    "triplets": (triplets, (60, 120, 249, 501), 5),
    "schwerin": (schwerin, (100, 120), 10),
    "scholl1": (scholl_1, (50, 100, 200, 500), 8),
    "scholl2": (scholl_2, (50, 100, 200, 500), 8),
    "scholl3": (scholl_3, (200,), 10),
    "waescher": (waescher, (60, 120, 200), 5),
    "hard": (hard, (160, 180, 200), 8),
    "augmented": (augmented, (201,), 5),
}


def generated(names: list[str], seed: int = 1) -> Iterator[Instance]:
    """The instances of these classes, the same for the same seed."""
    for name in names:
        make, sizes, count = CLASSES[name]
        for items in sizes:
            for number in range(count):
                yield make(random.Random(f"{seed}/{name}/{items}/{number}"), number, items)

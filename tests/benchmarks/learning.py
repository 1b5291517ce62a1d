"""How well the log's lessons agree with a known truth: one row a log, then the bars.

`python -m tests.benchmarks.learning [--logs N] [--runs N]` generates logs with 2 % outliers,
calibrates each, and predicts fresh runs from the same shop.
"""

import argparse
from time import perf_counter

import numpy as np

from planner.finisher.calibration import calibrate
from planner.finisher.drift import drifts
from planner.finisher.validation import cross_validate
from tests.finisher.logs import Log, Truth, a_log, some_truth

FRESH = 200


def split(log: Log, runs: int) -> tuple[list[int], list[int]]:
    return list(range(runs)), [
        i for i in range(runs, len(log.observations)) if log.observations[i].row not in log.wild
    ]


def one(seed: int, runs: int, noise: float, timed: int) -> dict[str, float]:
    log = a_log(runs + FRESH, seed, some_truth(seed, noise, timed))
    seen, fresh = split(log, runs)
    started = perf_counter()
    learned = calibrate([log.observations[i] for i in seen])
    seconds = perf_counter() - started
    slip = [learned.slip(log.observations[i].work) / log.slips[i] - 1 for i in fresh]
    hand = [learned.handling_s(log.observations[i].work) / log.handlings[i] - 1 for i in fresh]
    told = [(learned.predict(log.observations[i].work), log.observations[i]) for i in fresh]
    validation = cross_validate([log.observations[i] for i in seen])
    found = {outlier.row for outlier in learned.outliers}
    wild = {row for row in log.wild if row <= runs}
    return {
        "shop slip": abs(float(np.mean(slip))),
        "slip": float(np.mean(np.abs(slip))),
        "handling": float(np.mean(np.abs(hand))),
        "shop handling": abs(float(np.mean(hand))),
        "covered": float(np.mean([d.low_s <= o.seconds <= d.high_s for d, o in told])),
        "error": float(np.median([abs(d.median_s / o.seconds - 1) for d, o in told])),
        "before": validation.before if validation else 0.0,
        "after": validation.after if validation else 0.0,
        "missed": float(len(wild - found)),
        "wild": float(len(wild)),
        "false": float(len(found - wild)),
        "seconds": seconds,
    }


def drift_rates(logs: int, runs: int) -> tuple[float, float]:
    """Share of sound logs with an alarm, and of logs with a worn belt without one."""
    alarms = misses = 0
    for seed in range(logs):
        sound = a_log(runs, 5000 + seed).observations
        alarms += bool(drifts(calibrate(sound), sound))
        worn = a_log(runs, 7000 + seed, Truth(worn_from=runs // 2)).observations
        misses += not any(d.kind == "belt" for d in drifts(calibrate(worn), worn))
    return alarms / logs, misses / logs


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--logs", type=int, default=100)
    parser.add_argument("--runs", type=int, default=60)
    parser.add_argument("--noise", type=float, default=0.05)
    parser.add_argument("--timed", type=int, default=0, help="rows timed with a watch")
    asked = parser.parse_args()
    rows = [one(seed, asked.runs, asked.noise, asked.timed) for seed in range(asked.logs)]
    print(
        f"{asked.logs} logs of {asked.runs} runs, {asked.timed} of them timed, "
        f"noise {asked.noise:.0%}, 2 % outliers"
    )
    for name in rows[0]:
        values = np.array([row[name] for row in rows])
        print(
            f"{name:14} mean {values.mean():.4f}  median {np.median(values):.4f}  "
            f"90 % below {np.quantile(values, 0.9):.4f}"
        )
    covered = np.mean([row["covered"] for row in rows])
    print(f"80 % intervals cover {covered:.1%} of fresh runs")
    within = {
        "slip within 3 %": np.mean([row["slip"] <= 0.03 for row in rows]),
        "shop's slip within 3 %": np.mean([row["shop slip"] <= 0.03 for row in rows]),
        "handling within 10 %": np.mean([row["handling"] <= 0.10 for row in rows]),
        "shop's handling within 10 %": np.mean([row["shop handling"] <= 0.10 for row in rows]),
    }
    for name, share in within.items():
        print(f"{name}: {share:.0%} of logs")
    false, missed = drift_rates(asked.logs, 150)
    print(f"drift: {false:.1%} false alarms a log of 150 runs, {missed:.1%} worn belts missed")


if __name__ == "__main__":
    main()

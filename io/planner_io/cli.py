"""The command line: `brightrun template`, `check`, `plan`, `audit`, `log`, `ledger`, `serve`.

Only words and options are here; what commands do is in `commands`, which is imported when one
runs, so that `--help` answers at once.
"""

from __future__ import annotations

from datetime import date, datetime
from pathlib import Path
from typing import Annotated

import typer

from planner.options import LotPolicy
from planner_io.console import no_traceback, say, utf8
from planner_io.typed_dates import first_day, time_of_day
from planner_io.typed_values import decimal, lot_policy, whole
from planner_io.usage import run

app = typer.Typer(
    name="brightrun",
    add_completion=False,
    no_args_is_help=True,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
    help="Plan the week of a shop that finishes round tube before it saws, notches and bends it.",
)

Orders = Annotated[
    Path,
    typer.Argument(metavar="ORDERS", help="Workbook with the orders: .xlsx, .xls, .ods or .csv."),
]
ShopFile = Annotated[
    Path | None,
    typer.Option(
        "--shop", metavar="FILE", help="Workbook with the shop's own sheets, if not in ORDERS."
    ),
]


Start = Annotated[
    date | None,
    typer.Option(
        metavar="DATE",
        parser=first_day,
        help="First day (2026-11-30). [default: the workbook's, else Monday: today or next]",
    ),
]


def main() -> None:
    """What the command `brightrun` runs; no exception leaves it."""
    utf8()
    with no_traceback():
        raise SystemExit(run(app))


def _version(wanted: bool) -> None:
    if wanted:
        from importlib.metadata import version  # noqa: PLC0415 - help must answer at once

        say(f"brightrun {version('brightrun')}")
        raise typer.Exit


@app.callback()
def _common(
    version: Annotated[
        bool,
        typer.Option("--version", callback=_version, is_eager=True, help="Print the version."),
    ] = False,
) -> None:
    pass


@app.command()
def template(
    file: Annotated[Path, typer.Argument(metavar="FILE", help="Workbook to write (.xlsx).")],
    force: Annotated[bool, typer.Option("--force", help="Replace a file that is there.")] = False,
    metric: Annotated[
        bool, typer.Option("--metric", help="Sizes in millimetres, money in €, A4 paper.")
    ] = False,
) -> None:
    """Write a workbook to fill in, with notes and examples."""
    from planner_io.commands import template as command  # noqa: PLC0415 - help must answer at once

    command.template(file, force, metric)


@app.command()
def check(
    orders: Orders,
    shop: ShopFile = None,
    start: Start = None,
    as_json: Annotated[
        bool, typer.Option("--json", help="Print what was read as JSON, lengths in nanometres.")
    ] = False,
) -> None:
    """Say how a workbook is read, with every problem.

    Each order line is listed as it was understood, then every problem with its cell. With
    --start, dates that could be two are read near that day, and lines due before it, or
    years away from it, are told. The exit status is 1 if there is an error, so that the
    week cannot be planned as it is.
    """
    from planner_io.commands import check as command  # noqa: PLC0415 - help must answer at once

    command.check(orders, shop, start, as_json)


@app.command()
def plan(
    orders: Orders,
    shop: ShopFile = None,
    out: Annotated[
        Path | None,
        typer.Option(
            "--out",
            metavar="DIR",
            help="Folder to write; an earlier plan there is replaced. [default: plan-ORDERS]",
        ),
    ] = None,
    seconds: Annotated[
        float,
        typer.Option(metavar="N", parser=decimal(0.1), help="How much to search, in seconds."),
    ] = 8.0,
    seed: Annotated[
        int, typer.Option(metavar="N", parser=whole(0), help="Another seed searches another way.")
    ] = 1,
    start: Start = None,
    days: Annotated[
        int,
        typer.Option(metavar="N", parser=whole(1, 365), help="How many days the plan may take."),
    ] = 28,
    lots: Annotated[
        LotPolicy,
        typer.Option(
            parser=lot_policy,
            metavar="|".join(LotPolicy),
            help="Which order lines of one tube and finish go together; auto chooses lot by lot.",
        ),
    ] = LotPolicy.AUTO,
    keep_going: Annotated[
        bool, typer.Option("--keep-going", help="Leave bad rows out and plan the good ones.")
    ] = False,
    log: Annotated[
        Path | None,
        typer.Option(
            "--log", metavar="FILE", help="Take the finisher's times from this log of runs."
        ),
    ] = None,
    confidence: Annotated[
        int,
        typer.Option(
            metavar="N", parser=whole(50, 99), help="Allow the minutes that N of 100 runs keep."
        ),
    ] = 50,
    font: Annotated[
        Path | None,
        typer.Option(
            "--font",
            metavar="FILE",
            help="Font file (.ttf, .otf, .ttc) for letters that the papers' own type lacks.",
        ),
    ] = None,
    after: Annotated[
        Path | None,
        typer.Option(
            "--after", metavar="DIR", help="Plan the rest of the week of this plan folder again."
        ),
    ] = None,
    now: Annotated[
        datetime | None,
        typer.Option(
            metavar="TIME",
            parser=time_of_day,
            help='With --after: from when on, such as "2026-12-02 10:30". [default: now]',
        ),
    ] = None,
    progress: Annotated[
        Path | None,
        typer.Option(
            metavar="FILE", help="With --after: what was done, runs, is locked or pinned."
        ),
    ] = None,
    move_charge: Annotated[
        int,
        typer.Option(
            metavar="N",
            parser=whole(0),
            help="With --after: changeover minutes that moving an operation must save.",
        ),
    ] = 30,
) -> None:
    """Plan the week and write its papers to a folder.

    The plan is audited before anything is written, and the folder is written whole or not at
    all. Ctrl-C ends the search with its best plan so far. With --after, what is done or has
    begun stays, and issued work moves only where it is worth it. Where order lines or rows are
    left out, as with --keep-going or for want of tube, the last line says so and the exit
    status is 3.
    """
    from planner_io.again import Asked  # noqa: PLC0415 - help must answer at once
    from planner_io.commands import plan as command  # noqa: PLC0415 - help must answer at once

    command.plan(
        command.Wish(
            orders=orders,
            shop=shop,
            out=out,
            seconds=seconds,
            seed=seed,
            start=start,
            days=days,
            lots=lots,
            keep_going=keep_going,
            log=log,
            confidence=confidence,
            again=Asked(after, now, progress, move_charge),
            font=font,
        )
    )


@app.command(name="log")
def log_runs(
    file: Annotated[
        Path,
        typer.Argument(metavar="FILE", help="Workbook with the sheet Log: .xlsx, .ods or .csv."),
    ],
    shop: ShopFile = None,
) -> None:
    """Learn from what runs at the finisher really took.

    Slip, handling and changeover minutes come out with their spread, with the runs that are too
    far off to believe, and with belts or wheels that seem worn. Wrong rows are left out and
    named by cell; the exit status is then 3.
    """
    from planner_io.commands import log as command  # noqa: PLC0415 - help must answer at once

    command.log(file, shop)


@app.command()
def audit(
    folder: Annotated[
        Path, typer.Argument(metavar="DIR", help="Folder that `brightrun plan` has written.")
    ],
) -> None:
    """Prove a plan from scratch.

    Every invariant is worked out again from plan.json alone. The exit status is 1 if the plan
    breaks one.
    """
    from planner_io.commands import audit as command  # noqa: PLC0415 - help must answer at once

    command.audit(folder)


@app.command()
def ledger(
    folders: Annotated[
        list[Path],
        typer.Argument(metavar="DIR...", help="Folders that `brightrun plan` has written."),
    ],
) -> None:
    """Show what changeovers cost over the weeks.

    For each week the minutes by kind, what they cost, what the same week by due date takes,
    what was late and when all is done, each with the difference from the week before; what the
    floor took, where it was timed on a tablet; then how often each kind of change is made at each
    station, how long it takes, and what a minute less each time is worth a week. Several plans of
    one week, such as with a second finisher, are told apart by their folders; of a week that was
    planned again, give all folders: it counts once, with the taps of each.
    """
    from planner_io.commands import ledger as command  # noqa: PLC0415 - help must answer at once

    command.ledger(folders)


@app.command()
def serve(
    folder: Annotated[
        Path, typer.Argument(metavar="DIR", help="Folder that `brightrun plan` has written.")
    ],
    port: Annotated[
        int, typer.Option(metavar="N", parser=whole(0, 65535), help="Port; 0 takes a free one.")
    ] = 8420,
    host: Annotated[
        str,
        typer.Option(metavar="NAME", help="Address to serve at; 0.0.0.0 for the shop's network."),
    ] = "127.0.0.1",
    store: Annotated[
        Path | None,
        typer.Option(metavar="FILE", help="Where taps are kept. [default: floor.sqlite3 in DIR]"),
    ] = None,
    after: Annotated[
        Path | None,
        typer.Option(
            metavar="DIR",
            help="Folder that was served before the week was planned again; set-ups and pauses of "
            "what was running go on.",
        ),
    ] = None,
    after_store: Annotated[
        Path | None,
        typer.Option(
            metavar="FILE",
            help="With --after: where its taps are kept, if it was served with --store.",
        ),
    ] = None,
) -> None:
    """Show the pick lists on a tablet and take what is done.

    One list for each station, next step on top, with every setting; what runs really took is
    kept, and comes out as log.csv for `brightrun log` and progress.csv for planning again.
    """
    from planner_io.commands import serve as command  # noqa: PLC0415 - help must answer at once

    command.serve(folder, host, port, store, after, after_store)

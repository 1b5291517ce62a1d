"""`brightrun serve`: a plan's pick lists for tablets at the stations."""

from __future__ import annotations

import contextlib
import socket
import sys
from collections.abc import Generator
from datetime import datetime
from pathlib import Path

import uvicorn

from planner.errors import input_error
from planner_io.console import say, tell
from planner_io.plan_file import read_plan
from planner_io.store import Store
from planner_io.tapped import digest, floor_file, taps_of
from planner_io.taps import Tap
from planner_io.views.index import Index
from planner_io.web.app import create_app
from planner_io.web.begun import begun
from planner_io.web.guard import own_names

_HERE_ALONE = frozenset({"127.0.0.1", "localhost", "::1"})


def serve(
    folder: Path,
    host: str,
    port: int,
    store: Path | None,
    after: Path | None = None,
    after_store: Path | None = None,
) -> None:
    """Serve until Ctrl-C."""
    if after_store and not after:
        raise input_error(
            "--after-store belongs to --after: give the folder of the plan that was served before "
            "with --after DIR too."
        )
    plan = read_plan(folder)
    file = store or floor_file(folder)
    before = _taps_before(after, after_store) if after else ()
    kept = Store(file, digest(folder), begun(plan, before))
    kept.open()
    app = create_app(Index(plan), kept, own_names(host), datetime.now)
    with _listening(host, port) as listener:
        say(f"Pick lists at {_address(host, listener.getsockname()[1])}")
        say(f"Taps are kept in {file}. Ctrl-C ends.")
        sys.stdout.flush()
        if host not in _HERE_ALONE:
            tell("Everybody who reaches this address can tap; serve it in the shop's network only.")
        server = uvicorn.Server(uvicorn.Config(app, log_level="warning", server_header=False))
        with contextlib.suppress(KeyboardInterrupt):
            server.run(sockets=[listener])


def _taps_before(folder: Path, store: Path | None) -> tuple[Tap, ...]:
    """What was tapped on the plan before."""
    read_plan(folder)
    found = taps_of(folder, store)
    if found is None:
        raise input_error(
            f"{store or floor_file(folder)}: nobody has tapped there; leave --after out, or give "
            "the folder that was served before the week was planned again, and with --after-store "
            "the file of its taps if that was named with --store."
        )
    return found


def _address(host: str, port: int) -> str:
    shown = {"0.0.0.0": socket.gethostname(), "::": socket.gethostname()}.get(host, host)
    return f"http://[{shown}]:{port}/" if ":" in shown else f"http://{shown}:{port}/"


@contextlib.contextmanager
def _listening(host: str, port: int) -> Generator[socket.socket]:
    family = socket.AF_INET6 if ":" in host else socket.AF_INET
    try:
        listener = socket.create_server((host, port), family=family)
    except OSError as problem:
        why = (problem.strerror or str(problem)).partition(" (")[0]
        raise input_error(
            f"{host} port {port}: it cannot be used ({why.lower()}); choose another with "
            "--port or --host."
        ) from problem
    with listener:
        yield listener

"""The command itself: it serves the folder, says where, and names a port that is taken."""

from __future__ import annotations

import socket
import subprocess
import sys
import urllib.request
from pathlib import Path

import pytest

from planner.errors import InputError
from planner_io.commands.serve import serve
from planner_io.plan_file import plan_bytes
from tests.planner_io.plans import a_plan


def a_folder(path: Path) -> Path:
    (path / "plan.json").write_bytes(plan_bytes(a_plan()))
    return path


def test_it_says_where_it_serves_the_lists(tmp_path: Path) -> None:
    command = ["-m", "planner_io", "serve", str(a_folder(tmp_path)), "--port", "0"]
    with subprocess.Popen(
        [sys.executable, *command], stdout=subprocess.PIPE, encoding="utf-8"
    ) as server:
        try:
            assert server.stdout is not None
            said = server.stdout.readline()
            address = said.removeprefix("Pick lists at ").rstrip("\n")
            with urllib.request.urlopen(address, timeout=10) as answer:
                page = answer.read().decode()
        finally:
            server.terminate()
    assert address.endswith("/"), "a terminal takes what follows for a part of the address"
    assert "Alder Street Tube" in page
    assert (tmp_path / "floor.sqlite3").exists()


def test_a_port_that_is_taken_is_named(tmp_path: Path) -> None:
    with socket.create_server(("127.0.0.1", 0)) as other:
        port = int(other.getsockname()[1])
        with pytest.raises(InputError, match=f"port {port}: it cannot be used"):
            serve(a_folder(tmp_path), "127.0.0.1", port, None)


def test_a_folder_without_a_plan_is_refused(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="give a folder that `brightrun plan` has written"):
        serve(tmp_path, "127.0.0.1", 0, None)
    assert not (tmp_path / "floor.sqlite3").exists()

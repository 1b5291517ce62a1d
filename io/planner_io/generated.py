"""Files of docs that are written from the code: the command line of the modules that write one."""

from __future__ import annotations

import argparse
from pathlib import Path


def write_named(text: str, about: str | None) -> None:
    """Write `text` to the file that the command line names; `about` is the help of the command."""
    parser = argparse.ArgumentParser(description=about)
    parser.add_argument("file", type=Path)
    parser.parse_args().file.write_bytes(text.encode())

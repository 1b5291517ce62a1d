"""The one gate for spreadsheets: whatever a library raises leaves it as an InputError."""

from __future__ import annotations

import contextlib
import csv
import warnings
import zipfile
import zlib
from collections.abc import Generator
from pathlib import Path
from xml.etree.ElementTree import ParseError

from defusedxml import DefusedXmlException
from openpyxl.utils.exceptions import InvalidFileException

from planner.errors import BrightrunError, InputError, input_error

_DAMAGED = (
    zipfile.BadZipFile,
    zlib.error,
    InvalidFileException,
    ParseError,
    DefusedXmlException,
    csv.Error,
    EOFError,
    NotImplementedError,
)
_STRANGE = (
    ArithmeticError,
    AssertionError,
    AttributeError,
    LookupError,
    MemoryError,
    RecursionError,
    RuntimeError,
    TypeError,
    ValueError,
)
"""What openpyxl raises from its depths when a file breaks the rules of its format."""


@contextlib.contextmanager
def opening(path: Path) -> Generator[None]:
    """Turn every exception of the file system and of the spreadsheet libraries into InputError."""
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore", UserWarning)  # what openpyxl passes over, nobody needs
            yield
    except BrightrunError:
        raise
    except FileNotFoundError as problem:
        raise unusable(path, "there is no such file; check the name and the folder") from problem
    except IsADirectoryError as problem:
        raise unusable(path, "this is a folder; give the workbook in it") from problem
    except PermissionError as problem:
        raise unusable(
            path, "it may not be read; close it elsewhere or change its permissions"
        ) from problem
    except OSError as problem:
        raise unusable(path, f"it cannot be read ({problem.strerror or problem})") from problem
    except (*_DAMAGED, *_STRANGE) as problem:
        raise damaged(path) from problem


def unusable(path: Path, why: str) -> InputError:
    """The error for a file as a whole."""
    return input_error(f"{path.name or path}: {why}.", subject=path.name)


def damaged(path: Path) -> InputError:
    """The error for a file that breaks the rules of its format."""
    why = (
        "the file is damaged or not what its name says; "
        "open it in a spreadsheet program and save it as .xlsx"
    )
    return unusable(path, why)

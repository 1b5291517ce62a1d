"""The files that pages are made of, read once when the server starts: a server goes on as it began
when the package is installed anew, or taken away, beneath it."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path

from fastapi import Response
from starlette.exceptions import HTTPException

HERE = Path(__file__).parent
FONTS = HERE.parent / "fonts"
_TYPES = {
    ".css": "text/css",
    ".js": "text/javascript",
    ".otf": "font/otf",
    ".txt": "text/plain",
}


def templates() -> Mapping[str, str]:
    """The templates of the pages by their names."""
    found = sorted((HERE / "templates").iterdir())
    return {file.name: file.read_text(encoding="utf-8") for file in found if file.is_file()}


def files_of(folder: Path) -> Callable[[str], Response]:
    """What answers with a file of a folder by its name."""
    held = {
        file.name: (file.read_bytes(), _TYPES[file.suffix])
        for file in sorted(folder.iterdir())
        if file.suffix in _TYPES
    }

    def answer(name: str) -> Response:
        if name not in held:
            raise HTTPException(404)
        content, media_type = held[name]
        return Response(content, media_type=media_type)

    return answer

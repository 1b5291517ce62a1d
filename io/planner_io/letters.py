"""Which letters a font file has: its `cmap` table, as the OpenType specification lays it out."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from pathlib import Path
from struct import error, unpack_from

from planner.errors import input_error

FONTS = Path(__file__).parent / "fonts"
"""The type that is shipped."""
_COLLECTION = b"ttcf"
_KINDS = frozenset({b"\x00\x01\x00\x00", b"OTTO", b"true", _COLLECTION})
_UNICODE = frozenset({0, 3})
"""Platforms whose codes are Unicode."""


@cache
def shipped_letters() -> frozenset[int]:
    """Code points that every weight of the shipped type has."""
    first, *others = (letters_of(file) for file in sorted(FONTS.glob("*.otf")))
    return first.intersection(*others)


def letters_of(file: Path) -> frozenset[int]:
    """Code points of a .ttf, .otf or .ttc file; InputError if it is none."""
    try:
        font = file.read_bytes()
        if font[:4] in _KINDS:
            return frozenset(_letters(font))
    except OSError as problem:
        why = (problem.strerror or str(problem)).lower()
        raise input_error(f"{file}: it cannot be read ({why}); check the name.") from problem
    except error as problem:
        raise input_error(f"{file}: this font is damaged; give another.") from problem
    raise input_error(f"{file}: this is no font; give a .ttf, .otf or .ttc file.")


def _letters(font: bytes) -> Iterator[int]:
    faces = [0]
    if font[:4] == _COLLECTION:
        (count,) = unpack_from(">I", font, 8)
        faces = list(unpack_from(f">{count}I", font, 12))
    for face in faces:
        (tables,) = unpack_from(">H", font, face + 4)
        for number in range(tables):
            tag, _, start = unpack_from(">4sII", font, face + 12 + 16 * number)
            if tag == b"cmap":
                yield from _mapped(font, start)


def _mapped(font: bytes, cmap: int) -> Iterator[int]:
    (count,) = unpack_from(">H", font, cmap + 2)
    for number in range(count):
        platform, _, offset = unpack_from(">HHI", font, cmap + 4 + 8 * number)
        (kind,) = unpack_from(">H", font, cmap + offset)
        if platform in _UNICODE and kind in _READERS:
            yield from _READERS[kind](font, cmap + offset)


def _segments(font: bytes, at: int) -> Iterator[int]:
    """Format 4: segments, whose glyphs are the code plus a delta or stand in an array."""
    (twice,) = unpack_from(">H", font, at + 6)
    row = f">{twice // 2}H"
    ends, starts, deltas, offsets = (
        unpack_from(row, font, at + place)
        for place in (14, 16 + twice, 16 + 2 * twice, 16 + 3 * twice)
    )
    for number, (end, start, delta, offset) in enumerate(
        zip(ends, starts, deltas, offsets, strict=True)
    ):
        here = at + 16 + 3 * twice + 2 * number + offset
        for code in range(start, min(end, 0xFFFE) + 1):
            glyph = code
            if offset:
                (glyph,) = unpack_from(">H", font, here + 2 * (code - start))
            if glyph and (glyph + delta) & 0xFFFF:
                yield code


def _groups(font: bytes, at: int) -> Iterator[int]:
    """Format 12: ranges of codes with consecutive glyphs."""
    (count,) = unpack_from(">I", font, at + 12)
    for number in range(count):
        start, end, glyph = unpack_from(">III", font, at + 16 + 12 * number)
        yield from range(start + (glyph == 0), min(end, 0x10FFFF) + 1)


_READERS = {4: _segments, 12: _groups}

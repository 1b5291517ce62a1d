"""Keys and names as people type them."""

from __future__ import annotations


def bare(name: str) -> str:
    """A name without spaces and capitals, by which it is found however it is typed."""
    return "".join(name.split()).casefold()

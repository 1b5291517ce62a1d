"""The base of every model that goes into a plan: frozen, closed, and the same bytes each time."""

from __future__ import annotations

from pydantic import BaseModel, ConfigDict


class Frozen(BaseModel):
    """An immutable record; unknown fields are refused, and numbers that are none."""

    model_config = ConfigDict(
        frozen=True, extra="forbid", use_attribute_docstrings=True, allow_inf_nan=False
    )

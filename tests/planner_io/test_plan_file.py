"""plan.json keeps everything, is the same bytes each time, and is as its schema says."""

from __future__ import annotations

import hashlib
import json
from importlib.metadata import version
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from planner.errors import InputError
from planner.records import FORMAT
from planner_io.plan_file import plan_bytes, read_plan
from planner_io.schema import schema_text
from tests.audit.weeks import a_plan

LAYOUT = (3, "9007fdef78dbf8a3")
"""The format that is written, and the first digits of its layout's digest (SHA-256)."""
SCHEMA = Path(__file__).parents[2] / "docs" / "plan.schema.json"


def test_a_plan_comes_back_as_it_was_written(tmp_path: Path) -> None:
    (tmp_path / "plan.json").write_bytes(plan_bytes(a_plan()))
    assert read_plan(tmp_path) == a_plan()
    assert plan_bytes(read_plan(tmp_path / "plan.json")) == plan_bytes(a_plan())


def test_a_plan_is_as_its_schema_says() -> None:
    schema = json.loads(SCHEMA.read_text(encoding="utf-8"))
    jsonschema.Draft202012Validator.check_schema(schema)
    formats = jsonschema.Draft202012Validator.FORMAT_CHECKER
    jsonschema.validate(json.loads(plan_bytes(a_plan())), schema, format_checker=formats)


def test_the_schema_refuses_a_field_that_it_does_not_know() -> None:
    schema = json.loads(SCHEMA.read_text(encoding="utf-8"))
    plan = json.loads(plan_bytes(a_plan()))
    plan["slots"][0]["mood"] = "good"
    with pytest.raises(jsonschema.ValidationError, match="mood"):
        jsonschema.validate(plan, schema)


def test_the_schema_in_the_docs_is_the_plan_s() -> None:
    assert SCHEMA.read_text(encoding="utf-8") == schema_text(), (
        "run: python -m planner_io.schema docs/plan.schema.json"
    )


def without_words(part: dict[str, Any]) -> dict[str, Any]:
    """A part of a schema without what only explains it."""
    words = ("description", "title", "$comment")
    return {
        key: value for key, value in part.items() if key not in words or not isinstance(value, str)
    }


def test_a_format_has_one_layout() -> None:
    text = json.dumps(json.loads(schema_text(), object_hook=without_words), sort_keys=True)
    digest = hashlib.sha256(text.encode()).hexdigest()[:16]
    assert (FORMAT, digest) == LAYOUT, (
        "plan.json is laid out otherwise: count FORMAT in planner/records.py up, unless no plan of "
        "it can be out yet, and put both here"
    )


def test_a_folder_without_a_plan_is_refused(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="it cannot be read"):
        read_plan(tmp_path)


@pytest.mark.parametrize("text", ["", "{", "[]", "{}", '{"format": 99}', "[" * 100_000, "\udcff"])
def test_what_is_no_plan_is_refused(tmp_path: Path, text: str) -> None:
    file = tmp_path / "plan.json"
    file.write_bytes(text.encode("utf-8", "surrogateescape"))
    with pytest.raises(InputError, match=r"plan\.json"):
        read_plan(file)


def test_every_place_that_is_not_as_expected_is_told(tmp_path: Path) -> None:
    plan = json.loads(plan_bytes(a_plan()))
    plan["slots"][0]["run"] = "first"
    del plan["lots"][0]["spec"]["od_nm"]
    (tmp_path / "plan.json").write_text(json.dumps(plan))
    with pytest.raises(InputError) as refused:
        read_plan(tmp_path)
    text = str(refused.value)
    assert "slots.0.run" in text
    assert "lots.0.spec.od_nm" in text


@pytest.mark.parametrize("made_by", ["0.0.1", version("brightrun")])
def test_what_another_version_wrote_otherwise_is_told_as_such(made_by: str, tmp_path: Path) -> None:
    plan = json.loads(plan_bytes(a_plan())) | {"version": made_by, "mood": "good"}
    (tmp_path / "plan.json").write_text(json.dumps(plan))
    with pytest.raises(InputError, match="mood") as refused:
        read_plan(tmp_path)
    told = "written by another version, brightrun 0.0.1, not " in str(refused.value)
    assert told == (made_by == "0.0.1")

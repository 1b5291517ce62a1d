"""A plan folder is written whole or not at all, and never over anything else."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from planner.errors import InputError
from planner_io.folder import check_replaceable, write_file, write_folder

FILES = {"plan.json": b"{}", "week.xlsx": b"book", "packet.pdf": b"paper"}


def content(folder: Path) -> dict[str, bytes]:
    return {entry.name: entry.read_bytes() for entry in folder.iterdir()}


def test_a_new_folder_gets_every_file_and_leaves_nothing_beside_it(tmp_path: Path) -> None:
    write_folder(tmp_path / "a" / "plan", FILES)
    assert content(tmp_path / "a" / "plan") == FILES
    assert [entry.name for entry in (tmp_path / "a").iterdir()] == ["plan"]


def test_an_earlier_plan_is_replaced_with_all_its_files(tmp_path: Path) -> None:
    write_folder(tmp_path / "plan", FILES)
    write_folder(tmp_path / "plan", {"plan.json": b"{1}"})
    assert content(tmp_path / "plan") == {"plan.json": b"{1}"}
    assert len(list(tmp_path.iterdir())) == 1


def test_an_empty_folder_is_filled(tmp_path: Path) -> None:
    (tmp_path / "plan").mkdir()
    write_folder(tmp_path / "plan", FILES)
    assert content(tmp_path / "plan") == FILES


def test_a_folder_with_something_else_is_left_alone(tmp_path: Path) -> None:
    (tmp_path / "photos").mkdir()
    (tmp_path / "photos" / "cat.jpg").write_bytes(b"cat")
    with pytest.raises(InputError, match="holds something else than a plan"):
        write_folder(tmp_path / "photos", FILES)
    assert content(tmp_path / "photos") == {"cat.jpg": b"cat"}


def test_a_plan_folder_with_a_person_s_notes_in_it_is_left_alone(tmp_path: Path) -> None:
    write_folder(tmp_path / "plan", FILES)
    (tmp_path / "plan" / "notes.txt").write_bytes(b"ask Ann")
    with pytest.raises(InputError, match=r"it also holds notes\.txt"):
        check_replaceable(tmp_path / "plan")


def test_of_many_files_that_are_in_the_way_the_first_are_named(tmp_path: Path) -> None:
    write_folder(tmp_path / "plan", FILES)
    for page in range(1, 10):
        (tmp_path / "plan" / f"page-{page}.png").write_bytes(b"")
    with pytest.raises(InputError, match=r"page-5\.png, page-6\.png and 3 more, which"):
        check_replaceable(tmp_path / "plan")


def test_a_file_of_that_name_is_left_alone(tmp_path: Path) -> None:
    (tmp_path / "plan").write_bytes(b"mine")
    with pytest.raises(InputError, match="there is a file of this name"):
        write_folder(tmp_path / "plan", FILES)


def test_when_writing_fails_half_way_the_earlier_plan_stays(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    write_folder(tmp_path / "plan", FILES)

    def full(handle: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(InputError, match="no space left on device"):
        write_folder(tmp_path / "plan", {"plan.json": b"new"})
    assert content(tmp_path / "plan") == FILES
    assert len(list(tmp_path.iterdir())) == 1


def test_when_the_new_folder_cannot_take_its_place_the_earlier_plan_comes_back(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    write_folder(tmp_path / "plan", FILES)
    rename = Path.rename

    def busy(path: Path, target: Path) -> Path:
        if path.name == "new":
            raise PermissionError(13, "Permission denied")
        return rename(path, target)

    monkeypatch.setattr(Path, "rename", busy)
    with pytest.raises(InputError, match="permission denied"):
        write_folder(tmp_path / "plan", {"plan.json": b"new"})
    assert content(tmp_path / "plan") == FILES


def test_a_file_is_written_whole(tmp_path: Path) -> None:
    write_file(tmp_path / "a.xlsx", b"book")
    assert content(tmp_path) == {"a.xlsx": b"book"}


def test_a_file_in_a_folder_that_is_not_there_is_refused(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="cannot be written"):
        write_file(tmp_path / "none" / "a.xlsx", b"book")


def test_a_place_below_a_file_is_refused_before_anything_is_planned(tmp_path: Path) -> None:
    (tmp_path / "notes").write_text("mine")
    with pytest.raises(InputError, match=r"week: nothing can be written in .*notes; choose"):
        check_replaceable(tmp_path / "notes" / "plans" / "week")


def test_a_place_that_may_not_be_written_is_refused_before_anything_is_planned(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def denied(path: Path, mode: int) -> bool:
        return path != tmp_path or mode != os.W_OK

    monkeypatch.setattr(os, "access", denied)
    with pytest.raises(InputError, match="choose another place with --out"):
        check_replaceable(tmp_path / "plans" / "week")

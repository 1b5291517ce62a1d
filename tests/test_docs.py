"""What the pages say of the code is so: layers, links, commands, and examples that run."""

from __future__ import annotations

import re
import sys
from collections.abc import Iterator, Mapping
from functools import cache
from pathlib import Path
from shutil import copytree

import pytest

from planner_io.plan_file import NAME, plan_bytes
from tests.audit.weeks import a_plan
from tests.test_architecture import CORE, ROOT, imports

PAGES = [ROOT / "README.md", ROOT / "DEVELOPERS.md", *sorted((ROOT / "docs").glob("*.md"))]
TREES = ("planner", "planner_io", "tests", "demo_orders")


@cache
def layers() -> Mapping[str, tuple[set[str], set[str], set[str]]]:
    """DEVELOPERS.md: of each layer its modules, the layers and the packages that it may import."""
    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    table = text.split("| layer |")[1].split("\n\n")[0]
    rows = [[cell.strip() for cell in row.split("|")[1:-1]] for row in table.splitlines()[2:]]
    return {
        name: (set(re.findall(r"`(\w+)(?:\.py|/)`", modules)), words(others), words(packages))
        for name, modules, _, others, packages in rows
    }


def words(cell: str) -> set[str]:
    return set(re.findall(r"\w+", cell))


def reach(layer: str) -> set[str]:
    """The layer, those that its row names, and all that these may import."""
    return {layer}.union(*(reach(other) for other in layers()[layer][1]))


def layer_of(module: str) -> str:
    return next(name for name, (modules, _, _) in layers().items() if module in modules)


def module_of(path: Path) -> str:
    return path.relative_to(ROOT / "planner").parts[0].removesuffix(".py")


def test_each_module_stands_in_one_layer() -> None:
    named = sorted(module for modules, _, _ in layers().values() for module in modules)
    assert named == sorted({module_of(path) for path in CORE} - {"__init__"})


@pytest.mark.parametrize("layer", layers())
def test_a_layer_imports_what_its_row_names(layer: str) -> None:
    modules, _, packages = layers()[layer]
    for path in CORE:
        if module_of(path) not in modules:
            continue
        parts = [name.split(".") for name in imports(path)]
        ours = {part[1] for part in parts if part[0] == "planner" and len(part) > 1}
        assert {layer_of(module) for module in ours} <= reach(layer), path
        others = {part[0] for part in parts} - {"planner", *sys.stdlib_module_names}
        assert others <= packages, path


def links(page: Path) -> Iterator[Path]:
    for target in re.findall(r"\]\(([^)#]+)\)", page.read_text(encoding="utf-8")):
        yield (page.parent / target).resolve()


def test_links_lead_to_files_and_every_page_can_be_reached() -> None:
    found = {page: set(links(page)) for page in PAGES}
    assert all(target.exists() for targets in found.values() for target in targets)
    seen, left = set[Path](), {ROOT / "README.md"}
    while left:
        seen |= left
        left = {target for page in left for target in found.get(page, set())} - seen
    assert set(PAGES) <= seen


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.name)
def test_modules_and_files_that_a_page_names_are_there(page: Path) -> None:
    text = page.read_text(encoding="utf-8")
    for name in re.findall(r"python -m ([\w.]+)", text):
        if name.split(".")[0] in TREES:
            path = name.replace(".", "/")
            runs = (f"{path}.py", f"{path}/__main__.py", f"io/{path}.py", f"io/{path}/__main__.py")
            assert any((ROOT / each).exists() for each in runs), name
    for name in re.findall(r"`((?:planner|planner_io|io|tests|demo_orders|docs)/[\w./-]*)`", text):
        assert (ROOT / name).exists() or (ROOT / "io" / name).exists(), name


def examples(page: Path) -> list[str]:
    return re.findall(r"```python\n(.*?)```", page.read_text(encoding="utf-8"), re.DOTALL)


@pytest.mark.parametrize("page", [page for page in PAGES if examples(page)], ids=lambda p: p.name)
def test_examples_of_a_page_run(
    page: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    copytree(ROOT / "demo_orders", tmp_path / "demo_orders")
    if page.name == "papers.md":
        (tmp_path / "plan-small").mkdir()
        (tmp_path / "plan-small" / NAME).write_bytes(plan_bytes(a_plan()))
    monkeypatch.chdir(tmp_path)
    names: dict[str, object] = {}
    for code in examples(page):
        exec(compile(code, page.name, "exec"), names)

"""Letters that the papers cannot print are told once, with their place, unless a font has them."""

from __future__ import annotations

import io
from dataclasses import replace
from pathlib import Path
from struct import pack

import pytest
from pypdf import PdfReader

from planner.errors import InputError
from planner_io.letter_checks import unprintable
from planner_io.letters import FONTS, letters_of, shipped_letters
from planner_io.packet import write
from planner_io.workbook import Reading
from tests.planner_io.plans import a_plan
from tests.planner_io.test_packet import fonts_of


def a_reading(*customers: str, shop: str = "Alder Street Tube") -> Reading:
    plan = a_plan(shop_name=shop)
    line = plan.orders[0]
    lines = tuple(
        line.model_copy(update={"line": str(n), "customer": name, "place": f"Orders!A{n + 4}"})
        for n, name in enumerate(customers, start=1)
    )
    return Reading(lines, plan.stock, plan.shop, (), (), None)


def a_font(path: Path, codes: range, kind: int) -> Path:
    """A font file with nothing but a `cmap` of one kind of table."""
    if kind == 12:
        table = pack(">HHIIIIII", 12, 0, 28, 0, 1, codes[0], codes[-1], 1)
    else:
        ends, starts = (codes[-1], 0xFFFF), (codes[0], 0xFFFF)
        arrays = pack(">HHHHHHHHH", *ends, 0, *starts, 1, 1, 0, 0)
        table = pack(">HHHHHHH", 4, 32, 0, 4, 4, 1, 0) + arrays
    cmap = pack(">HHHHI", 0, 1, 3, 10 if kind == 12 else 1, 12) + table
    head = b"\x00\x01\x00\x00" + pack(">HHHH", 1, 16, 0, 0) + pack(">4sIII", b"cmap", 0, 28, 99)
    path.write_bytes(head + cmap)
    return path


def test_the_shipped_type_has_what_english_greek_and_russian_need() -> None:
    assert all(ord(letter) in shipped_letters() for letter in "Café Ångström Ωμ Жук ½ × → ° ′")
    assert not shipped_letters() & set(range(0x4E00, 0x9FFF))


def test_a_name_in_other_letters_is_told_once_with_its_first_cell() -> None:
    found = unprintable(a_reading("Harrow", "漢字 Works", "山田"), None)
    assert [str(finding) for finding in found] == [
        "Orders!A6: Line 1187/2 and 1 more line: in “漢字 Works” letters that the papers' type "
        "lacks print as boxes, while week.xlsx and the tablet show them: give `brightrun plan` a "
        "font that has them, with --font FILE."
    ]
    assert unprintable(a_reading("Café Ωμ Жук", "a\u200b\tb"), None) == ()


def test_the_shop_s_own_names_are_looked_at_too() -> None:
    (found,) = unprintable(a_reading("Harrow", shop="工場"), None)
    assert str(found).startswith("The shop's own names: in “工場” letters that")


@pytest.mark.parametrize("kind", [4, 12])
def test_a_font_that_has_the_letters_settles_it(tmp_path: Path, kind: int) -> None:
    han = range(0x4E00, 0x9FA6)
    font = a_font(tmp_path / "han.ttf", han, kind)
    assert letters_of(font) == frozenset(han)
    assert unprintable(a_reading("漢字"), font) == ()
    assert len(unprintable(a_reading("漢字 한글"), font)) == 1


@pytest.mark.parametrize("content", [b"PK\x03\x04", b"", b"\x00\x01\x00\x00\x00\x09"])
def test_what_is_no_font_is_refused(tmp_path: Path, content: bytes) -> None:
    font = tmp_path / "week.ttf"
    font.write_bytes(content)
    with pytest.raises(InputError, match=r"week\.ttf: this (is no font|font is damaged)"):
        unprintable(replace(a_reading("漢字")), font)


def test_a_font_that_is_not_there_is_refused(tmp_path: Path) -> None:
    with pytest.raises(InputError, match=r"it cannot be read \(no such file"):
        letters_of(tmp_path / "none.ttf")


def test_the_packet_takes_letters_from_the_font_given(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    own = FONTS / "SourceSansPro-Regular.otf"
    monkeypatch.setattr(write, "FONTS", tmp_path)
    used = [fonts_in(write.write_packet(a_plan(), font=font)) for font in (None, own)]
    assert not any("SourceSansPro" in name for name in used[0])
    assert all("SourceSansPro" in name for name in used[1])


def fonts_in(pdf: bytes) -> set[str]:
    return {
        str(font["/BaseFont"])
        for page in PdfReader(io.BytesIO(pdf)).pages
        for font in fonts_of(page)
    }

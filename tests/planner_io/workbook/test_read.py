"""Orders are read by meaning, and everything wrong is told at once."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from planner.errors import Severity
from planner.orders import CutLength
from planner_io.starter import starter_shop
from planner_io.starter_metric import metric_shop, metric_stock
from planner_io.starter_stock import starter_stock
from planner_io.workbook import read_workbook
from tests.planner_io.workbook.sheets import Cell, a_table, a_workbook, an_order, some_orders


def test_a_plain_order_is_read_to_the_nanometre(tmp_path: Path) -> None:
    reading = read_workbook(some_orders(tmp_path / "w.xlsx", an_order()))
    (line,) = reading.orders
    assert not reading.findings
    assert line.key == "1187/1"
    assert (line.spec.od_nm, line.spec.wall_nm) == (38_100_000, 1_651_000)
    assert line.place == "Orders!A2"


def test_all_problems_of_a_row_are_told_at_once(tmp_path: Path) -> None:
    bad = an_order(Quantity=0, Material="unobtanium", Length="12 ft 3 x", Due="soon")
    findings = read_workbook(some_orders(tmp_path / "w.xlsx", bad)).findings
    assert {finding.cell for finding in findings} == {"D2", "E2", "I2", "J2"}
    assert {finding.severity for finding in findings} == {Severity.ERROR}


def test_a_row_that_was_entered_twice_is_doubted_where_lines_have_no_numbers(
    tmp_path: Path,
) -> None:
    blank = an_order(Line=None)
    found = read_workbook(some_orders(tmp_path / "w.xlsx", blank, an_order(Line=None, Quantity=3)))
    assert not found.findings
    found = read_workbook(some_orders(tmp_path / "w.xlsx", blank, blank))
    assert [finding.cell for finding in found.findings] == ["A3"]
    assert len(found.orders) == 2
    numbered = (an_order(), an_order(Line="2"))
    assert not read_workbook(some_orders(tmp_path / "w.xlsx", *numbered)).findings


def test_a_start_that_is_asked_for_tells_which_of_two_dates_is_meant(tmp_path: Path) -> None:
    path = some_orders(
        tmp_path / "w.xlsx", an_order(Due="03/12/2026"), an_order(Line="2", Due="3 Dec")
    )
    assert [finding.cell for finding in read_workbook(path).findings] == ["J2", "J3"]
    reading = read_workbook(path, start=date(2026, 11, 30))
    assert {line.due.date() for line in reading.orders} == {date(2026, 12, 3)}


def test_headers_of_other_order_systems_are_read(tmp_path: Path) -> None:
    names = {"Quantity": "Balance", "Due": "Req Date", "Wall": "Ga."}
    row = {names.get(name, name): value for name, value in an_order(Wall=16).items()}
    (line,) = read_workbook(some_orders(tmp_path / "w.xlsx", {**row, "Sold To": "Alder"})).orders
    assert (line.quantity, line.spec.wall_nm, line.customer) == (4, 1_651_000, "Alder")


def test_a_grade_names_the_only_finish_that_ends_with_it(tmp_path: Path) -> None:
    rows = (an_order(Finish=180), an_order(Line="2", Finish="P320"))
    reading = read_workbook(some_orders(tmp_path / "w.xlsx", *rows))
    assert [line.recipe for line in reading.orders] == ["Satin P180", "Fine P320"]
    assert "Orders!H2: finish “180” read as Satin P180" in reading.readings
    recipes = [("Satin", "P180"), ("Other", "P180"), ("Third", "P120")]
    sheet = a_table(
        [{"Recipe": name, "Grade": grade, "Scaled": 1, "Bright": 1} for name, grade in recipes]
    )
    two = read_workbook(some_orders(tmp_path / "t.xlsx", *rows[:1], Recipes=sheet))
    assert [finding.cell for finding in two.findings if finding.cell] == ["H2"]


METRIC = {"OD": "OD (mm)", "Wall": "Wall (mm)", "Length": "Length mm"}


def a_metric_order() -> dict[str, Cell]:
    row = {METRIC.get(name, name): value for name, value in an_order().items()}
    return {**row, "OD (mm)": 38.1, "Wall (mm)": 1.65, "Length mm": 900}


def test_a_week_in_millimetres_gets_papers_in_millimetres(tmp_path: Path) -> None:
    found = read_workbook(some_orders(tmp_path / "w.xlsx", a_metric_order()))
    assert found.shop.house.unit == "mm"
    assert "sizes in mm, as the headers are: no Settings say another Unit" in found.readings


def test_metric_tube_is_cut_from_the_starter_shop_with_metric_sizes(tmp_path: Path) -> None:
    ods = {"inches.xlsx": (38.1, 25.4, 42.4), "metric.xlsx": (42.4, 48.3, 25.4)}
    readings = {
        name: read_workbook(
            some_orders(
                tmp_path / name,
                *({**a_metric_order(), "OD (mm)": od, "Line": str(i)} for i, od in enumerate(each)),
            )
        )
        for name, each in ods.items()
    }
    inches, metric = readings["inches.xlsx"], readings["metric.xlsx"]
    assert inches.stock == starter_stock()
    assert inches.shop.tools == starter_shop().tools
    assert metric.stock == metric_stock()
    assert metric.shop == metric_shop()
    assert inches.shop.house.unit == metric.shop.house.unit == "mm"
    note = "no sheets of the shop's own: the built-in starter shop with metric sizes is taken"
    assert note in metric.readings
    assert note not in inches.readings


def test_a_shop_that_sets_millimetres_gets_metric_tools_for_sheets_that_are_missing(
    tmp_path: Path,
) -> None:
    unit: list[list[Cell]] = [["Setting", "Value"], ["Unit", "mm"], ["Currency", "kr"]]
    row = {**an_order(Length=900, Wall=2), "OD": 42.4}
    found = read_workbook(some_orders(tmp_path / "w.xlsx", row, Settings=unit))
    assert (found.shop.tools, found.stock) == (metric_shop().tools, metric_stock())
    assert found.shop.house.currency == "kr"
    said = {"currency": "kr"}
    assert found.shop.house == metric_shop().house.model_copy(update=said)


def test_what_settings_do_not_say_is_as_in_the_starter_shop_with_inch_sizes(tmp_path: Path) -> None:
    unit: list[list[Cell]] = [["Setting", "Value"], ["Unit", "mm"], ["Shop name", "North Bay"]]
    path = some_orders(tmp_path / "w.xlsx", an_order(OD=38.1, Wall=1.65, Length=900), Settings=unit)
    said = {"unit": "mm", "name": "North Bay"}
    assert read_workbook(path).shop.house == starter_shop().house.model_copy(update=said)


def test_a_length_without_unit_follows_a_metric_od(tmp_path: Path) -> None:
    row = {("Length" if k == "Length mm" else k): v for k, v in a_metric_order().items()}
    found = read_workbook(some_orders(tmp_path / "w.xlsx", row))
    assert found.orders[0].shape == CutLength(length_nm=900_000_000)
    inches = {("Length (in)" if k == "Length" else k): v for k, v in row.items()}
    assert read_workbook(some_orders(tmp_path / "i.xlsx", inches)).shop.house.unit == "inch"


def test_what_the_shop_or_another_header_says_of_units_counts_more(tmp_path: Path) -> None:
    bare = {("OD" if name == "OD (mm)" else name): v for name, v in a_metric_order().items()}
    bare["OD"] = 1.5
    settings: list[list[Cell]] = [["Setting", "Value"], ["Unit", "inch"]]
    stock: list[list[Cell]] = [["Material", "OD", "Wall", "Length"], ["304", "1-1/2", 0.065, "20'"]]
    for path in (
        some_orders(tmp_path / "a.xlsx", bare),
        some_orders(tmp_path / "b.xlsx", a_metric_order(), Settings=settings),
        some_orders(tmp_path / "c.xlsx", a_metric_order(), Stock=stock),
        some_orders(tmp_path / "d.xlsx", an_order()),
    ):
        assert read_workbook(path).shop.house.unit == "inch"


def a_bare_metric_order() -> dict[str, Cell]:
    return an_order(OD=42.4, Wall=2, Length=900)


def test_tools_in_bare_millimetres_do_not_make_inches_of_the_week(tmp_path: Path) -> None:
    head: list[Cell] = ["Tool", "Kind", "Station", "OD", "CLR"]
    dies: list[list[Cell]] = [head, ["die 42", "die", "Bender", 42.4, 106]]
    stations: list[list[Cell]] = [
        ["Station", "Kind", "Smallest OD", "Largest OD"],
        ["Finisher", "finisher", 10, 76],
        ["Bender", "bender", 10, 60],
        ["Saw", "saw", 5, 100],
    ]
    for name, sheets in (("a", {"Dies": dies}), ("b", {"Dies": dies, "Stations": stations})):
        path = some_orders(tmp_path / f"{name}.xlsx", a_bare_metric_order(), **sheets)
        found = read_workbook(path)
        assert (found.shop.house.unit, found.shop.tools[0].clr_nm) == ("mm", 106_000_000)
        assert not [each for each in found.findings if each.severity == Severity.ERROR]


@pytest.mark.parametrize(
    ("sheets", "fix"),
    [
        ({"Rails": [["Rail", "Thickness"], ["bronze", 6]]}, "sizes in Rails have no unit: add a"),
        ({"Settings": [["Setting", "Value"], ["Currency", "kr"]]}, "add a row Unit there, with mm"),
    ],
)
def test_a_week_of_millimetres_whose_shop_may_be_in_inches_asks_for_the_unit_first(
    tmp_path: Path, sheets: dict[str, list[list[Cell]]], fix: str
) -> None:
    found = read_workbook(some_orders(tmp_path / "w.xlsx", a_bare_metric_order(), **sheets))
    first = next(each for each in found.findings if each.severity == Severity.ERROR)
    assert first.sheet == "Settings"
    assert fix in first.message


def test_a_workbook_in_german_french_or_spanish_is_read(tmp_path: Path) -> None:
    order = an_order(OD="38,1", Wall="1,65", Length="900,5", Due="4.12.2026", Finish="none")
    columns = ("Order", "Part", "Quantity", "Material", "OD", "Wall", "Length", "Finish", "Due")
    titles = (
        "Auftrag Bezeichnung Menge Werkstoff Durchmesser Wandstärke Länge Oberfläche Liefertermin",
        "Commande Désignation Quantité Matière Diamètre Épaisseur Longueur Finition Livraison",
        "Pedido Pieza Cantidad Material Diámetro Espesor Longitud Acabado Entrega",
    )
    for number, (words, name) in enumerate(
        zip(titles, ("Aufträge", "Commandes", "Pedidos"), strict=True)
    ):
        values = (order[column] for column in columns)
        row: dict[str, Cell] = dict(zip(words.split(), values, strict=True))
        path = a_workbook(tmp_path / f"{number}.xlsx", **{name: a_table([row])})
        (line,) = read_workbook(path, start=date(2026, 11, 30)).orders
        assert (line.part, line.quantity, line.recipe) == ("Post", 4, None)
        assert line.shape == CutLength(length_nm=900_500_000)


@pytest.mark.parametrize("title", ["Piece", "Pieces", "Pieza"])
def test_a_column_of_pieces_by_name_is_the_part(tmp_path: Path, title: str) -> None:
    row = {title if name == "Part" else name: value for name, value in an_order().items()}
    found = read_workbook(some_orders(tmp_path / "w.xlsx", row))
    assert [(line.part, line.quantity) for line in found.orders] == [("Post", 4)]
    assert not found.findings
    assert f"Orders!C1: header “{title}” read as Part, as it has names" in found.readings


def test_two_columns_of_pieces_by_number_are_doubted(tmp_path: Path) -> None:
    found = read_workbook(some_orders(tmp_path / "w.xlsx", {**an_order(), "Pieces": 3}))
    assert "both mean Quantity" in found.findings[0].message


def in_millimetres_unsaid(**changes: Cell) -> dict[str, Cell]:
    return an_order(OD=38.1, Wall=1.65, Length=900, **changes)


def test_ods_too_large_for_inches_are_in_millimetres(tmp_path: Path) -> None:
    path = some_orders(
        tmp_path / "w.xlsx", in_millimetres_unsaid(), an_order(Order="2", OD="42,4", Wall=2)
    )
    found = read_workbook(path)
    assert [line.spec.od_nm for line in found.orders] == [38_100_000, 42_400_000]
    assert found.shop.house.unit == "mm"
    assert any("the ODs would be too large in inches" in each for each in found.readings)


def test_pipe_sizes_say_nothing_of_the_unit(tmp_path: Path) -> None:
    pipes = ("1-1/2 sch 40", "DN 32 x 3.56", '1-1/2" sch 40', "1.1/2 NB sch 40")
    rows = [an_order(Order=pipe, OD=pipe, Wall=None, Length=900) for pipe in pipes]
    mixed = some_orders(tmp_path / "m.xlsx", in_millimetres_unsaid(), *rows)
    assert read_workbook(mixed).shop.house.unit == "mm"
    assert read_workbook(some_orders(tmp_path / "p.xlsx", *rows)).shop.house.unit == "inch"


@pytest.mark.parametrize(
    ("width", "unit"), [("Width (mm)", "mm"), ("Width", "inch"), ("Width (in)", "mm")]
)
def test_the_shops_own_sheets_must_name_their_units_for_mm(
    tmp_path: Path, width: str, unit: str
) -> None:
    belts: list[list[Cell]] = [
        ["Belt", "Grade", "Families", width, "Thickness (mm)"],
        ["B180", "P180", "all", 75 if "mm" in width else 3, 1],
    ]
    path = some_orders(tmp_path / "w.xlsx", in_millimetres_unsaid(), Belts=belts)
    assert read_workbook(path).shop.house.unit == unit


def test_settings_without_a_unit_leave_it_in_inches(tmp_path: Path) -> None:
    settings: list[list[Cell]] = [["Setting", "Value"], ["Shortest remnant", 30]]
    path = some_orders(tmp_path / "w.xlsx", in_millimetres_unsaid(), Settings=settings)
    assert read_workbook(path).shop.house.unit == "inch"


@pytest.mark.parametrize(("what", "unit"), [("1.5", "inch"), ("1-1/2", "mm"), ("38.1 mm", "mm")])
def test_a_bare_size_of_what_is_mounted_leaves_it_in_inches(
    tmp_path: Path, what: str, unit: str
) -> None:
    mounted: list[list[Cell]] = [["Station", "What", "Value"], ["Finisher", "OD", what]]
    path = some_orders(tmp_path / "w.xlsx", in_millimetres_unsaid(), Mounted=mounted)
    assert read_workbook(path).shop.house.unit == unit


@pytest.mark.parametrize("od", ["1-1/2", '38.1"', 1.5])
def test_one_od_in_inches_leaves_the_others_to_be_told(tmp_path: Path, od: Cell) -> None:
    path = some_orders(tmp_path / "w.xlsx", in_millimetres_unsaid(), an_order(Order="2", OD=od))
    assert read_workbook(path).shop.house.unit == "inch"


def test_one_od_in_inches_among_many_in_millimetres_is_told_and_read(tmp_path: Path) -> None:
    rows = [in_millimetres_unsaid(Line=str(number)) for number in range(1, 5)]
    inches = {**in_millimetres_unsaid(), "Line": "9", "OD": '1-1/2"'}
    found = read_workbook(some_orders(tmp_path / "w.xlsx", *rows, inches))
    assert found.shop.house.unit == "mm"
    assert [line.spec.od_nm for line in found.orders] == [38_100_000] * 5
    assert [line.spec.wall_nm for line in found.orders] == [1_651_000] * 5
    (told,) = [each for each in found.findings if "bare numbers beside it" in each.message]
    assert (told.severity.value, told.read) == ("warning", '1-1/2"')
    few = read_workbook(some_orders(tmp_path / "f.xlsx", *rows[:3], inches))
    assert few.shop.house.unit == "inch"


def test_an_order_list_in_french_with_short_headers_is_read(tmp_path: Path) -> None:
    names = {
        **{"Order": "N° cde", "Line": "Ligne", "Part": "Désignation", "Quantity": "Qté"},
        **{"Material": "Matière", "OD": "Ø ext.", "Wall": "Ép.", "Finish": "Finition"},
        **{"Length": "Longueur", "Due": "Délai"},
    }
    row = {names[key]: value for key, value in an_order(Finish="Brossé grain 180").items()}
    total: dict[str, Cell] = {"N° cde": "Somme", "Qté": 4}
    found = read_workbook(some_orders(tmp_path / "w.xlsx", row, total))
    plain = read_workbook(some_orders(tmp_path / "p.xlsx", an_order()))
    assert [line.model_copy(update={"place": ""}) for line in found.orders] == [
        line.model_copy(update={"place": ""}) for line in plain.orders
    ]


def test_a_stick_in_unsaid_millimetres_is_refused_with_the_fix(tmp_path: Path) -> None:
    stock: list[list[Cell]] = [["Material", "OD", "Wall", "Length"], ["304", "1-1/2", ".065", 6000]]
    found = read_workbook(some_orders(tmp_path / "w.xlsx", an_order(), Stock=stock))
    messages = " ".join(finding.message for finding in found.findings)
    assert "if it is in mm, write 6000 mm, or mm in the header" in messages

"""What `check` says of tube that a finisher cannot be set up for."""

from planner.blanks import make_blanks
from planner.errors import Severity
from planner.orders import OrderLine
from planner.shop import Shop
from tests.trade import a_line, a_spec, inch
from tests.week import a_week_shop, some_stock


def with_stop_from(least: str) -> Shop:
    """A week's shop whose stop holds the wheels at least so far apart."""
    shop = a_week_shop()
    wheels = tuple(w.model_copy(update={"stop_min_nm": inch(least)}) for w in shop.wheels)
    return shop.model_copy(update={"wheels": wheels})


def warnings_of(shop: Shop, *ods: str) -> list[str]:
    lines = [a_line(order=str(number), spec=a_spec(od)) for number, od in enumerate(ods)]
    findings = make_blanks(lines, some_stock([line.spec for line in lines]), shop).findings
    return [finding.message for finding in findings if "rail and stop" in finding.message]


def test_a_tube_that_the_stop_keeps_from_the_belt_is_told_once_with_its_belts() -> None:
    # C: with a tube of 1-1/2 in between them the wheels are less than 1-1/2 in apart, so a stop
    # from 2 in on keeps them off it; one of 2-1/2 in holds them more than 2 in apart.
    said = warnings_of(with_stop_from("2"), "1-1/2", "2-1/2", "1-1/2")
    (text,) = said
    assert 'Finisher: no place for rail and stop with 1-1/2" under P120 belt, P180 belt' in text
    assert "cannot be set closer" in text


def test_a_tube_with_a_place_for_rail_and_stop_is_not_spoken_of() -> None:
    assert warnings_of(a_week_shop(), "1-1/2", "2-1/2") == []


def test_a_finisher_without_wheels_is_refused_once_where_something_is_finished_there() -> None:
    shop = a_week_shop().model_copy(update={"wheels": ()})

    def errors(*lines: OrderLine) -> list[str]:
        findings = make_blanks(lines, some_stock([line.spec for line in lines]), shop).findings
        return [it.message for it in findings if it.severity is Severity.ERROR]

    finished = [a_line(order=order, spec=a_spec(od)) for order, od in (("1", "1-1/2"), ("2", "2"))]
    (text,) = errors(*finished)
    assert text.startswith("Finisher has no wheels: enter the diameters")
    assert errors(a_line(recipe=None)) == []
    too_large = a_line(spec=a_spec("4"))
    assert "has no wheels" not in " ".join(errors(too_large))


def test_a_line_without_a_finish_and_a_finisher_without_wheels_are_not_spoken_of() -> None:
    shop = with_stop_from("2")
    raw = [a_line(spec=a_spec("1-1/2"), recipe=None)]
    findings = make_blanks(raw, some_stock(), shop).findings
    assert not [finding for finding in findings if "rail and stop" in finding.message]
    assert warnings_of(shop.model_copy(update={"wheels": ()}), "1-1/2") == []


def test_each_belt_is_told_that_may_do_a_pass_when_worn_belts_are_used_up_on_coarse_work() -> None:
    shop = with_stop_from("2")
    first, *others = shop.belts
    worn = first.model_copy(update={"name": "worn", "life_min": 100, "used_min": 90})
    new = first.model_copy(update={"name": "new", "life_min": 100, "used_min": 0})
    for worn_first, named in ((True, {"worn", "new"}), (False, {"worn"})):
        house = shop.house.model_copy(update={"worn_first": worn_first})
        change = {"house": house, "belts": (worn, new, *others)}
        (text,) = warnings_of(shop.model_copy(update=change), "1-1/2")
        belts = text.partition(" under ")[2].partition(", so cards")[0].split(", ")
        assert {"worn", "new"} & set(belts) == named


def test_what_keeps_a_tube_from_its_place_is_told_and_not_what_is_doubtful_besides() -> None:
    shop = with_stop_from("2")
    thick = [rail for rail in shop.rails if rail.thickness_nm == inch("1/4")]
    # C: a quarter of 1 in is 1/4, so a rail of 1/4 leaves no gap, of which a card only warns.
    (text,) = warnings_of(shop.model_copy(update={"rails": tuple(thick)}), "1")
    assert "cannot be set closer" in text
    assert "leaves no gap" not in text


def test_a_shop_without_rails_is_not_told_where_to_set_them() -> None:
    assert warnings_of(with_stop_from("2").model_copy(update={"rails": ()}), "1-1/2") == []

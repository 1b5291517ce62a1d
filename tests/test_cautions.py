"""Every run carries the cautions that its work, material and changes call for."""

from __future__ import annotations

from itertools import product

import pytest

from planner.cautions import DEFERRING, cautions_for
from planner.shop import StationKind, What
from planner.tube import COATINGS, Family

EVERYWHERE = list(product(StationKind, Family))


def said(kind: StationKind, family: Family, **situation: object) -> str:
    return " ".join(c.line for c in cautions_for(kind, (family,), **situation))  # type: ignore[arg-type]  # keywords by name


@pytest.mark.parametrize(("kind", "family"), EVERYWHERE)
def test_every_list_protects_the_eyes_and_ends_by_deferring(
    kind: StationKind, family: Family
) -> None:
    cautions = cautions_for(kind, (family,))
    assert any("eye protection" in caution.text for caution in cautions)
    assert cautions[-1] is DEFERRING


@pytest.mark.parametrize(("kind", "family"), EVERYWHERE)
def test_every_other_caution_is_one_sentence_with_its_basis(
    kind: StationKind, family: Family
) -> None:
    cautions = cautions_for(
        kind,
        (family,),
        previous_family=Family.CARBON,
        short_piece=True,
        long_stick=True,
        changes=tuple(What),
        finished=True,
        coated=COATINGS,
    )
    assert len(set(cautions)) == len(cautions)
    for caution in cautions[:-1]:
        assert caution.basis
        assert caution.text.endswith(".")
        assert caution.text.count(". ") == 0


@pytest.mark.parametrize(
    ("before", "now", "stops"),
    [
        (Family.CARBON, Family.ALUMINIUM, True),
        (Family.ALUMINIUM, Family.CARBON, True),
        (Family.ALUMINIUM, Family.STAINLESS, True),
        (Family.ALUMINIUM, Family.ALUMINIUM, False),
        (Family.CARBON, Family.STAINLESS, False),
        (None, Family.ALUMINIUM, False),
    ],
)
def test_aluminium_and_iron_never_follow_each_other_without_a_stop(
    before: Family | None, now: Family, stops: bool
) -> None:
    first = cautions_for(StationKind.FINISHER, (now,), previous_family=before)[0].text
    assert first.startswith("Stop") == stops


def test_stainless_warns_of_its_dust_and_of_steel_before_it() -> None:
    text = said(StationKind.FINISHER, Family.STAINLESS, previous_family=Family.CARBON)
    assert "hexavalent chromium" in text
    assert "kept for stainless" in text
    assert "hexavalent" not in said(StationKind.FINISHER, Family.CARBON)


@pytest.mark.parametrize("what", [What.BELT, What.RAIL, What.DIE, What.CUTTER, What.ATTACHMENT])
def test_changing_what_moves_calls_for_lockout(what: What) -> None:
    assert "Lock out" in said(StationKind.FINISHER, Family.CARBON, changes=(what,))


def test_nothing_changed_calls_for_no_lockout_and_no_tracking() -> None:
    text = said(StationKind.FINISHER, Family.CARBON)
    assert "Lock out" not in text
    assert "tracks" not in text


def test_a_new_belt_is_tracked_by_hand() -> None:
    assert "tracks" in said(StationKind.FINISHER, Family.CARBON, changes=(What.BELT,))


def test_short_and_long_pieces_at_the_finisher_have_their_own_cautions() -> None:
    assert "short piece" in said(StationKind.FINISHER, Family.CARBON, short_piece=True)
    assert "whips" in said(StationKind.FINISHER, Family.CARBON, long_stick=True)
    assert "short piece" not in said(StationKind.SAW, Family.CARBON, short_piece=True)


def test_finished_tube_is_bent_in_soft_or_clean_tooling() -> None:
    assert "soft or clean tooling" in said(StationKind.BENDER, Family.STAINLESS, finished=True)
    assert "soft" not in said(StationKind.BENDER, Family.STAINLESS)


def test_gloves_and_guards_are_named_where_something_turns() -> None:
    for kind in (StationKind.FINISHER, StationKind.SAW, StationKind.NOTCHER):
        text = said(kind, Family.CARBON)
        assert "gloves" in text
        assert "guards" in text


def test_finished_tube_is_sleeved_or_racked_wherever_it_goes() -> None:
    for kind in StationKind:
        assert "Sleeve" in said(kind, Family.STAINLESS, finished=True)


def test_a_run_of_several_families_has_the_cautions_of_each_and_of_what_follows_what() -> None:
    mixed = (Family.CARBON, Family.STAINLESS, Family.ALUMINIUM)
    text = " ".join(caution.text for caution in cautions_for(StationKind.NOTCHER, mixed))
    assert text.startswith("Stop: clean machine")
    for words in ("aluminium dust apart", "out of the reach of sparks", "hexavalent", "Wipe down"):
        assert words in text
    alike = cautions_for(StationKind.NOTCHER, (Family.CARBON, Family.CARBON))
    assert alike == cautions_for(StationKind.NOTCHER, (Family.CARBON,))


@pytest.mark.parametrize(
    ("coating", "words"),
    [
        *(("galvanised", "zinc of galvanised tube"), ("plated", "chromium and nickel")),
        *(("painted", "old paint can carry lead"), ("aluminised", "burn as thermite")),
    ],
)
def test_a_coating_is_told_of_where_it_becomes_dust_or_fume(coating: str, words: str) -> None:
    for kind in (StationKind.FINISHER, StationKind.SAW, StationKind.NOTCHER, StationKind.BENCH):
        assert words in said(kind, Family.CARBON, coated=(coating,))
        assert words not in said(kind, Family.CARBON)
    assert words not in said(StationKind.BENDER, Family.CARBON, coated=(coating,))

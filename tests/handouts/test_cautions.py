"""Cautions: which fit, and what their wording may never promise."""

import re

import pytest

from handouts.cautions import CAUTIONS, DEFERRAL, Hazard, cautions_for

ALWAYS = {"hands", "allergens", "floor"}


def keys(*hazards):
    return {caution.key for caution in cautions_for(frozenset(hazards))}


def test_some_cautions_fit_every_class():
    assert keys() == ALWAYS


@pytest.mark.parametrize(
    ("hazard", "more"),
    [
        (Hazard.FLOUR, {"raw-flour", "flour-dust"}),
        (Hazard.RAW_EGG, {"raw-egg"}),
        (Hazard.CHILLED, {"chilled"}),
        (Hazard.OVEN, {"oven", "burns"}),
        (Hazard.STOVE, {"stove", "burns"}),
        (Hazard.MIXER, {"mixer"}),
        (Hazard.BLADE, {"blades"}),
    ],
)
def test_a_hazard_brings_its_own_cautions(hazard, more):
    assert keys(hazard) == ALWAYS | more


def test_every_hazard_has_a_caution():
    assert frozenset().union(*(caution.hazards for caution in CAUTIONS)) == set(Hazard)


def test_all_hazards_together_bring_all_cautions_in_order():
    assert cautions_for(frozenset(Hazard)) == CAUTIONS


@pytest.mark.parametrize("caution", CAUTIONS, ids=lambda caution: caution.key)
def test_a_caution_names_its_source_and_how_it_is_known(caution):
    assert caution.heading
    assert len(caution.source) > 15
    assert caution.known.value


def test_the_wording_promises_nothing():
    words = " ".join([DEFERRAL, *(f"{one.heading} {one.text}" for one in CAUTIONS)]).lower()
    assert not re.search(r"safe for|free from|safe to|guarantee|gluten-free", words)


def test_both_bands_for_chilled_food_name_their_guidance():
    (chilled,) = (caution for caution in CAUTIONS if caution.key == "chilled")
    assert "5 °C (41 °F) or colder by the FDA Food Code" in chilled.text
    assert "4 °C (40 °F)" in chilled.text
    assert "USDA advice for homes" in chilled.text


def test_the_local_authority_comes_first():
    assert "local food authority" in DEFERRAL
    assert "local codes" in DEFERRAL

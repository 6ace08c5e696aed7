"""Cautions: which fit, whose guidance they say, and what their wording may never promise."""

import re
from collections import Counter

import pytest

from classes.core.regions import Region
from handouts.kinds.handout import handouts
from handouts.kinds.preparation import preparation_list
from handouts.kinds.station_cards import station_cards
from handouts.press.render import to_html
from handouts.safety.cautions import CAUTIONS, DEFERRAL, cautions_for
from handouts.safety.hazards import hazards_of
from handouts.safety.values import ALWAYS as EVERY_CLASS
from handouts.safety.values import Hazard, Known
from tests.handouts.conftest import NOW, another_class, plan_of

ALWAYS = {"hands", "allergens", "floor"}
REGIONAL = ("hands", "chilled", "cooling", "allergens", "burns")

regions = pytest.mark.parametrize("region", Region)


def keys(*hazards, region=Region.ALL):
    return {caution.key for caution in cautions_for(frozenset(hazards), region)}


def text_of(key, region):
    (found,) = (one for one in cautions_for(frozenset(Hazard), region) if one.key == key)
    return found.text


@regions
def test_some_cautions_fit_every_class(region):
    assert keys(*EVERY_CLASS, region=region) == ALWAYS
    assert keys(region=region) == set()


@regions
@pytest.mark.parametrize(
    ("hazard", "more"),
    [
        (Hazard.FLOUR, {"raw-flour"}),
        (Hazard.RAW_EGG, {"raw-egg"}),
        (Hazard.CHILLED, {"chilled"}),
        (Hazard.COOLED, {"cooling"}),
        (Hazard.OVEN, {"heat", "burns"}),
        (Hazard.STOVE, {"heat", "burns"}),
        (Hazard.MIXER, {"mixer"}),
        (Hazard.BLADE, {"blades"}),
    ],
)
def test_a_hazard_brings_its_own_cautions(hazard, more, region):
    assert keys(hazard, region=region) == more


def test_every_hazard_has_a_caution():
    assert frozenset().union(*(caution.hazards for caution in CAUTIONS)) == set(Hazard)


@regions
def test_every_region_has_one_wording_of_every_caution(region):
    counted = Counter(one.key for one in cautions_for(frozenset(Hazard), region))
    assert counted == Counter({one.key for one in CAUTIONS})


def test_the_wordings_of_all_regions_are_all_the_cautions_in_order():
    worded = [cautions_for(frozenset(Hazard), region) for region in Region]
    assert [one for one in CAUTIONS if any(one in some for some in worded)] == list(CAUTIONS)


@pytest.mark.parametrize("key", REGIONAL)
def test_where_guidance_differs_each_region_names_its_own_source(key):
    sources = {one.source for one in CAUTIONS if one.key == key}
    assert len(sources) == len(Region)


@pytest.mark.parametrize("caution", CAUTIONS, ids=lambda one: f"{one.key}-{min(one.regions)}")
def test_a_caution_names_its_source_and_how_it_is_known(caution):
    assert caution.heading
    assert len(caution.source) > 15
    assert caution.known in Known


def test_the_wording_promises_nothing():
    said = (f"{one.heading} {one.text} {one.brief}" for one in CAUTIONS)
    words = " ".join([DEFERRAL, *said]).lower()
    assert not re.search(r"safe for|free from|safe to|guarantee|gluten-free", words)


# The figures are those of the sources named beside the wording.


@pytest.mark.parametrize(
    ("key", "region", "figures"),
    [
        ("chilled", Region.ALL, ["5 °C (41 °F)", "UK law: 8 °C"]),
        ("chilled", Region.US, ["5 °C (41 °F), Food Code", "4 °C (40 °F), 2 hours", "USDA"]),
        ("chilled", Region.EUROPE, ["5 °C (41 °F)", "UK law: 8 °C", "EU countries set their own"]),
        ("chilled", Region.OCEANIA, ["5 °C (41 °F)", "2 hours", "after 4"]),
        ("cooling", Region.ALL, ["21 °C (70 °F) in 2 hours", "in 4 more", "UK: in 90 min"]),
        ("cooling", Region.US, ["135 to 70 °F) in 2 hours", "5 °C (41 °F) by hour 6"]),
        ("cooling", Region.EUROPE, ["90 minutes"]),
        ("cooling", Region.OCEANIA, ["60 to 21 °C in 2 hours", "in 4 hours more"]),
        ("burns", Region.ALL, ["20 minutes", "US advice: 5 to 20"]),
        ("burns", Region.US, ["20 minutes", "US advice: 5 to 20"]),
        ("burns", Region.EUROPE, ["20 minutes"]),
        ("burns", Region.OCEANIA, ["20 minutes", "up to 3 hours"]),
        ("allergens", Region.ALL, ["lists differ"]),
        ("allergens", Region.US, ["US law: 9"]),
        ("allergens", Region.EUROPE, ["the law: 14"]),
    ],
)
def test_a_region_says_its_own_figures(key, region, figures):
    assert [one for one in figures if one not in text_of(key, region)] == []


@regions
def test_every_region_washes_hands_for_20_seconds_and_cools_a_burn_for_20_minutes(region):
    assert "20 seconds" in text_of("hands", region)
    assert "20 minutes" in text_of("burns", region)
    assert "call the emergency number" in text_of("burns", region)


def test_the_local_authority_comes_first():
    assert "local food authority" in DEFERRAL
    assert "local codes" in DEFERRAL
    assert "trained first-aiders" in DEFERRAL


# What a class holds


def test_a_roux_is_cooked_on_the_stove_and_cooled(printed_all):
    assert {Hazard.STOVE, Hazard.COOLED} <= printed_all["Pillow rolls"].hazards
    assert not {Hazard.STOVE, Hazard.COOLED} & printed_all["demo"].hazards


@pytest.mark.parametrize(
    ("words", "more"),
    [
        ("Simmer the fruit until soft.", {Hazard.STOVE}),
        ("Spread the custard over the dough.", {Hazard.STOVE, Hazard.COOLED}),
        ("Add the filling and roll it up.", {Hazard.STOVE, Hazard.COOLED}),
        ("Boiled rings go on the tray.", {Hazard.STOVE}),
        ("Fold it once.", set()),
    ],
)
def test_the_words_of_the_steps_tell_what_is_cooked(demo, words, more):
    step = demo.taught.get().revision.steps.first()
    type(step).objects.filter(pk=step.pk).update(text=words)
    found = hazards_of(plan_of(demo))
    assert found & {Hazard.STOVE, Hazard.COOLED} == more


# On paper


@pytest.fixture
def papers(demo):
    """The papers of a class with every hazard, by the guidance of its kitchen."""

    def made(region):
        demo.kitchen.guidance = region
        demo.kitchen.save()
        plan = plan_of(another_class(demo, "Pillow rolls", students=2))
        students = plan.students[:1]
        return [
            *handouts(plan, students, NOW),
            preparation_list(plan, NOW),
            *station_cards(plan, NOW),
        ]

    return made


@regions
def test_the_papers_say_what_the_kitchen_has_chosen(papers, region):
    for paper in papers(region):
        expected = cautions_for(paper.hazards, region, paper.writing)
        assert paper.foot.cautions == expected
        markup = to_html(paper)
        assert [one.key for one in paper.foot.cautions if one.brief not in markup] == []

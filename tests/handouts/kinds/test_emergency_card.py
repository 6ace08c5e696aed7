"""The emergency card: whom to call and where we are, what to do by region, and who comes first."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from classes.core.regions import Region
from handouts.kinds.emergency_card import EmergencyCard, emergency_card
from handouts.press.render import PageSize, to_pdf
from handouts.safety.cautions import DEFERRAL
from handouts.safety.first_aid import FIRST, THEN, USUAL_NUMBERS
from handouts.safety.values import Known
from tests.handouts.conftest import NOW, another_class, plan_of
from tests.handouts.pdfs import page_texts

regions = pytest.mark.parametrize("region", Region)
emergencies = pytest.mark.parametrize("emergency", [*FIRST, *THEN], ids=lambda one: one.key)


@pytest.fixture
def card(demo) -> EmergencyCard:
    return emergency_card(plan_of(demo), NOW)


@pytest.fixture
def card_in(demo):
    def made(region) -> EmergencyCard:
        demo.kitchen.guidance = region
        demo.kitchen.save()
        return emergency_card(plan_of(demo), NOW)

    return made


@pytest.fixture
def unknown(demo) -> EmergencyCard:
    """The card of a kitchen that knows neither number, nor place, nor first-aid box."""
    names = ("emergency_number", "place", "first_aid_place", "access_facts")
    for name in names:
        setattr(demo.kitchen, name, "")
    demo.kitchen.save()
    return emergency_card(plan_of(demo), NOW)


def said(card: EmergencyCard) -> dict[str, str]:
    return {one.heading: " ".join(one.steps) for one in (*card.first, *card.then)}


def test_the_card_tells_whom_to_call_and_what_to_read_out(card):
    first = page_texts(to_pdf([card], PageSize.A4))[0]
    for words in (
        "Call 112",
        "We are at: Thistlewick Hall, The teaching kitchen of an invented village hall",
        "Way in: Level entrance from the yard",
        "First-aid box: on the wall beside the door",
        "Trained first-aiders today:",
    ):
        assert words in first
    assert "Usual:" not in first


@regions
def test_an_unknown_number_is_a_line_to_write_on_beside_the_usual_ones(unknown, region):
    card = replace(unknown, head=replace(unknown.head, region=region))
    first, second = page_texts(to_pdf([card], PageSize.A4))
    assert USUAL_NUMBERS[region] in first
    assert "Check which is right here" in first
    for words in ("We are at: Thistlewick Hall", "Address:", "First-aid box:"):
        assert words in first
    assert "Emergency numbers:" in second


@pytest.mark.parametrize(
    ("region", "numbers"),
    [
        (Region.US, {"911"}),
        (Region.EUROPE, {"112", "999"}),
        (Region.OCEANIA, {"000", "111"}),
        (Region.ALL, {"911", "112", "999", "000", "111"}),
    ],
)
def test_a_region_names_its_own_numbers(region, numbers):
    assert set(re.findall(r"\d{3}", USUAL_NUMBERS[region])) == numbers


# What to do: checked against the sources that are named beside the wording.


def test_a_severe_reaction_calls_uses_the_persons_own_injector_and_stays(card):
    told = said(card)["Severe allergic reaction"]
    order = [
        "somebody calls at once",
        "their own adrenaline (epinephrine) auto-injector",
        "They lie flat",
        "They do not stand or walk",
        "Do not leave them alone",
        "second injector",
    ]
    assert [told.index(words) for words in order] == sorted(told.index(words) for words in order)
    assert "as trained" in told


@pytest.mark.parametrize(
    ("region", "second", "burn"),
    [
        (Region.US, "after 5 to 15 minutes:", "20 minutes (US advice: 5 to 20)"),
        (Region.EUROPE, "after 5 minutes:", "20 minutes."),
        (Region.OCEANIA, "after 5 minutes:", "useful up to 3 hours"),
        (Region.ALL, "after 5 minutes (US advice: 5 to 15):", "20 minutes (US advice: 5 to 20)"),
    ],
)
def test_where_advice_differs_the_card_says_the_regions(card_in, region, second, burn):
    told = said(card_in(region))
    assert second in told["Severe allergic reaction"]
    assert burn in told["Burn or scald"]


@regions
def test_the_steps_are_as_many_in_every_region(card_in, region):
    counted = [len(one.steps) for one in (*card_in(region).first, *card_in(region).then)]
    assert counted == [4, 3, 3, 2, 3, 3]


@pytest.mark.parametrize(
    ("heading", "words"),
    [
        ("Burn or scald", "No ice, cream or butter"),
        ("Cut", "keep pressing"),
        ("Flour in eye or lungs", "do not rub"),
        ("Electric shock", "Do not touch them while the power is on"),
        ("Fire in the oven", "The door stays shut. Oven off"),
    ],
)
def test_each_emergency_says_the_first_thing_to_do(card, heading, words):
    assert words in said(card)[heading]


@emergencies
def test_an_emergency_names_its_source_and_how_it_is_known(emergency):
    assert len(emergency.source) > 15
    assert emergency.known in Known
    assert re.search(r"read|from memory|second-hand|Pages", emergency.source)


def test_the_card_puts_first_aiders_and_the_line_above_itself(card):
    first, second = page_texts(to_pdf([card], PageSize.A4))
    assert DEFERRAL in first
    assert "the voice there and trained first-aiders come before this card" in second
    assert "Sources" in second


# Pages


@pytest.mark.parametrize("page_size", PageSize)
@pytest.mark.parametrize("title", ["Hearth loaf", "Pillow rolls"])
def test_the_card_is_two_sides_of_one_sheet(demo, page_size, title):
    session = another_class(demo, title, students=2)
    card = emergency_card(plan_of(session), NOW)
    for one in (
        card,
        replace(card, number="", place="", first_aid_place="", access_facts="x " * 500),
    ):
        pages = page_texts(to_pdf([one], page_size))
        assert len(pages) == 2
        assert "Severe allergic reaction" in pages[0]
        assert "Burn or scald" in pages[0]

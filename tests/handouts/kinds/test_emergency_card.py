"""The emergency card: whom to call and where we are, what to do by region, and who comes first."""

from __future__ import annotations

import re
import subprocess
from dataclasses import replace

import pytest
from django.urls import reverse
from django.utils.html import escape

from classes.core.regions import Region
from handouts.kinds.emergency_card import EmergencyCard, HelpPlace, emergency_card
from handouts.press.render import PageSize, to_html, to_pdf
from handouts.safety.cautions import CAUTIONS, DEFERRAL
from handouts.safety.first_aid import EMERGENCIES, USUAL_NUMBERS
from handouts.safety.values import Known
from tests.handouts.conftest import NOW, another_class, plan_of
from tests.handouts.pdfs import page_texts, plain, sizes_mm

PLACES = (
    "first_aid_place",
    "defibrillator_place",
    "extinguisher_place",
    "shutoff_place",
    "meeting_point",
)
regions = pytest.mark.parametrize("region", Region)
emergencies = pytest.mark.parametrize("emergency", EMERGENCIES, ids=lambda one: one.key)


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
    """The card of a kitchen that knows neither number, nor address, nor where anything is."""
    for name in ("emergency_number", "place", "access_facts", *PLACES):
        setattr(demo.kitchen, name, "")
    demo.kitchen.save()
    return emergency_card(plan_of(demo), NOW)


def said(card: EmergencyCard) -> dict[str, str]:
    return {one.heading: " ".join([one.first, *one.then]) for one in card.advice}


def test_the_card_tells_whom_to_call_and_what_to_read_out(card):
    first = page_texts(to_pdf([card], PageSize.A4))[0]
    for words in (
        "Call 112",
        "We are at Thistlewick Hall, The teaching kitchen of an invented village hall",
        "Way in: Level entrance from the yard",
        "Trained first-aiders decide. Today:",
        "First-aid box on the wall beside the door",
        "Defibrillator ? ask, write it here",
        "Extinguisher, blanket left of the ovens",
        "Main switch, gas tap gray cabinet",
        "Meeting point the pear tree",
    ):
        assert words in first
    assert "Usual:" not in first


@regions
def test_what_the_kitchen_does_not_say_is_a_question_mark_and_a_line(unknown, region):
    card = replace(unknown, head=replace(unknown.head, region=region))
    first, _ = page_texts(to_pdf([card], PageSize.A4))
    assert "Call ?" in first
    assert f"Usual: {USUAL_NUMBERS[region]}" in first
    assert "We are at Thistlewick Hall, ?" in first
    assert first.count("? ask, write it here") == len(PLACES)


@pytest.mark.parametrize("page_size", PageSize)
def test_the_number_and_what_to_do_at_once_are_in_the_first_third(card, page_size):
    pdf = to_pdf([card], page_size)
    _, height_mm = sizes_mm(pdf).pop()
    third = ["-x", "0", "-y", "0", "-W", "9999", "-H", str(round(height_mm / 3 / 25.4 * 72))]
    command = ["pdftotext", "-layout", "-l", "1", *third, "-", "-"]
    done = subprocess.run(command, input=pdf, capture_output=True, check=True)
    words = plain(done.stdout.decode())
    for told in ("Call 112", "We are at Thistlewick", "One calls and stays on the line"):
        assert told in words
    assert "Electric shock" not in words


@regions
def test_the_first_page_says_the_first_thing_to_do_of_every_emergency(card_in, region):
    card = card_in(region)
    first, second = page_texts(to_pdf([card], PageSize.A4))
    for one in card.advice:
        assert f"{one.heading} {one.first}" in first
        assert [step for step in one.then if step.split()[0] not in second] == []


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
        "Call, say “anaphylaxis”",
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
def test_every_region_has_one_first_step_and_as_many_others(card_in, region):
    assert [len(one.then) for one in card_in(region).advice] == [4, 2, 3, 2, 2, 2, 2, 2, 2, 2]


@pytest.mark.parametrize(
    ("region", "thrusts"),
    [
        (Region.US, "to the belly, in turn"),
        (Region.EUROPE, "to the belly, in turn"),
        (Region.OCEANIA, "to the chest, in turn"),
        (Region.ALL, "to the belly (Australia, New Zealand"),
    ],
)
def test_choking_is_helped_as_the_region_teaches(card_in, region, thrusts):
    told = said(card_in(region))["Choking"]
    assert thrusts in told
    assert told.index("cough") < told.index("5 hard blows") < told.index(thrusts)


@pytest.mark.parametrize(
    ("heading", "words"),
    [
        ("Burn or scald", "No ice, cream or butter"),
        ("Cut", "keep pressing"),
        ("Fainting", "Lay them flat"),
        ("Flour in eye or lungs", "do not rub"),
        ("Electric shock", "Do not touch them: plug or main switch first"),
        ("Fire in the oven", "The door stays shut. Oven off"),
        ("Burning fat", "Never water"),
        ("Smell of gas", "Call from outside"),
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
    first, _ = page_texts(to_pdf([card], PageSize.A4))
    assert DEFERRAL in first
    assert "The voice on the line and trained first-aiders come before this card" in first


def test_where_the_words_come_from_is_on_a_page_and_not_on_the_wall(card, demo, client):
    printed = to_html(card)
    client.force_login(demo.instructor)
    page = client.get(reverse("handouts:safety_words")).content.decode()
    for one in (*EMERGENCIES, *CAUTIONS):
        assert escape(one.source) not in printed
        assert escape(one.source) in page
    assert (
        reverse("handouts:safety_words")
        in client.get(demo.kitchen.get_absolute_url()).content.decode()
    )


# Pages


@pytest.mark.parametrize("page_size", PageSize)
@pytest.mark.parametrize("title", ["Hearth loaf", "Pillow rolls"])
def test_the_card_is_two_sides_of_one_sheet(demo, page_size, title):
    session = another_class(demo, title, students=2)
    card = emergency_card(plan_of(session), NOW)
    for one in (
        card,
        replace(card, number="", place="", access_facts="x " * 500),
        replace(
            card,
            place="x " * 100,
            places=tuple(
                HelpPlace("Box", "behind the second blue door on the left of the ovens, high up")
                for _ in PLACES
            ),
        ),
    ):
        pages = page_texts(to_pdf([one], page_size))
        assert len(pages) == 2
        assert "Electric shock" in pages[0]

"""Cautions once: what is below the content, what is left to the wall, and that no pack lacks it."""

from dataclasses import replace
from decimal import Decimal
from itertools import combinations

import pytest
from django.urls import reverse
from django.utils import timezone

from classes.core.regions import Region
from classes.models import Pack
from handouts.catalog import BY_NAME, KINDS
from handouts.kind import Material, NotPrinted
from handouts.kinds.before_start import KIND as WALL_SHEET
from handouts.kinds.before_start import BeforeWeStart, before_we_start, with_wall
from handouts.kinds.sign_in import sign_in_sheet
from handouts.kinds.station_notices import StationNotice
from handouts.press import packs
from handouts.press.packs import make_pack
from handouts.press.render import PageSize, to_html, to_pdf
from handouts.press.tasks import ask_for_pack
from handouts.safety.cautions import CAUTIONS, DEFERRAL
from handouts.safety.foot import FOOT_LINES, LEFT_FIRST, MORE, caution_foot
from handouts.safety.values import FOOD, HEAT, Hazard
from tests.handouts.conftest import NOW, another_class, plan_of
from tests.handouts.layouts import laid_out
from tests.handouts.pdfs import page_texts, plain
from tests.handouts.presses import OncePress
from tests.worlds import anew

NOTHING, EVERYTHING = frozenset(), frozenset(Hazard)
regions = pytest.mark.parametrize("region", Region)


@pytest.fixture
def rolls(demo_made_once, db):
    """A class with every hazard but a blade."""
    return another_class(anew(demo_made_once), "Pillow rolls", students=2)


# The foot


def keys(cautions):
    return [caution.key for caution in cautions]


@regions
def test_without_the_wall_nothing_is_left_out_and_with_it_all_is_in_two_lines(region):
    alone = caution_foot(EVERYTHING, region, kept=NOTHING, on_wall=NOTHING)
    assert len(alone.cautions) == len(set(keys(CAUTIONS)))
    assert (alone.on_wall, alone.more) == ((), "")
    assert alone.line_count > FOOT_LINES
    beside = caution_foot(EVERYTHING, region, kept=NOTHING, on_wall=EVERYTHING)
    assert beside.line_count <= FOOT_LINES
    assert beside.words.endswith(MORE)
    assert sorted(keys([*beside.cautions, *beside.on_wall])) == sorted(keys(alone.cautions))


@regions
def test_what_is_kept_or_not_on_the_wall_stays_on_the_paper(region):
    for pair in combinations(Hazard, 2):
        kept = caution_foot(EVERYTHING, region, kept=set(pair), on_wall=EVERYTHING)
        unsaid = caution_foot(EVERYTHING, region, kept=NOTHING, on_wall=EVERYTHING - set(pair))
        for foot in (kept, unsaid):
            assert not [one for one in foot.on_wall if one.hazards <= set(pair)]


def test_burns_and_heat_are_the_last_to_go_and_a_wider_foot_says_more():
    usual = caution_foot(EVERYTHING, Region.ALL, kept=NOTHING, on_wall=EVERYTHING)
    assert {"burns", "heat", "allergens"} <= set(keys(usual.cautions))
    wide = caution_foot(
        EVERYTHING, Region.ALL, kept=NOTHING, on_wall=EVERYTHING, wide_mm=Decimal(260)
    )
    assert set(keys(usual.cautions)) < set(keys(wide.cautions))


# The longest feet of two lines that the hazards make in some region, by their own count.
LONGEST = (
    {Hazard.RAW_EGG, Hazard.CHILLED, Hazard.ALLERGENS, Hazard.MIXER, Hazard.BLADE},
    {Hazard.FLOUR, Hazard.CHILLED, Hazard.OVEN, Hazard.FLOOR},
    {Hazard.RAW_EGG, Hazard.ALLERGENS, Hazard.STOVE, Hazard.FLOOR},
    {Hazard.HANDS, Hazard.COOLED, Hazard.ALLERGENS, Hazard.MIXER},
    EVERYTHING,
)


def test_two_lines_are_two_lines_on_the_page(rolls):
    head = replace(before_we_start(plan_of(rolls), NOW).head, region=Region.US)
    counted = []
    for hazards in LONGEST:
        told = {"head": head, "hazards": frozenset(hazards), "on_wall": EVERYTHING}
        paper = StationNotice(**told, station="Bench 1", avoids=("milk",), asks=False)
        lines = [line for page in laid_out(paper, PageSize.A4) for line in page.lines]
        counted.append(len({line.bottom for line in lines if "cautions" in line.classes}))
    assert max(counted) == FOOT_LINES


def test_the_order_of_leaving_names_every_caution_once():
    assert sorted(LEFT_FIRST) == sorted(set(keys(CAUTIONS)))


def test_handouts_keep_those_of_food_oven_and_stove_and_papers_for_home_all(rolls):
    material = with_wall(Material(plan_of(rolls), NOW))
    for name, kept in (("handouts", FOOD | HEAT), ("at-home", EVERYTHING)):
        for leaf in BY_NAME[name].leaves(material):
            assert not [one for one in leaf.paper.foot.on_wall if one.hazards & kept]
            assert DEFERRAL in to_html(leaf.paper)


# The sheet on the wall


@regions
@pytest.mark.parametrize("page_size", PageSize)
def test_the_sheet_holds_every_caution_on_one_page(rolls, region, page_size):
    rolls.kitchen.guidance = region
    rolls.kitchen.save()
    sheet = before_we_start(plan_of(rolls), NOW)
    places = tuple(replace(one, where="behind the blue door " * 5) for one in sheet.places)
    full = BeforeWeStart(head=sheet.head, hazards=EVERYTHING, places=places)
    (page,) = page_texts(to_pdf([full], page_size))
    assert [one.key for one in full.cautions if one.text not in page] == []
    assert page.count("behind the blue door") == 10
    assert DEFERRAL in page


def test_everybody_who_heard_it_initials_the_sign_in_sheet(rolls):
    (sheet,) = sign_in_sheet(plan_of(rolls), NOW)
    markup = plain(to_html(sheet))
    assert markup.count("Heard") == 2
    assert "Heard “Before we start”: initials" in markup


# No file without it


class Seeing(OncePress):
    """A press that keeps the markup it is given."""

    def __init__(self):
        super().__init__()
        self.texts = []

    def lay_out(self, markup):
        self.texts.append(plain(markup.text))
        return super().lay_out(markup)


def pack_of(session, *kinds, only_changed=False):
    """A pack and the cautions that neither their paper nor the wall sheet in the file says."""
    press = Seeing()
    pack = ask_for_pack(
        session=session,
        by=session.instructor,
        kinds=kinds,
        page_size=PageSize.A4,
        layout="",
        only_changed=only_changed,
        at=timezone.now(),
    )
    session.kept_papers.all().delete()
    pack = make_pack(pack, press)
    return pack, uncovered(session, pack, press.texts)


def uncovered(session, pack, texts):
    material = Material(plan_of(session), timezone.now())
    papers = [
        leaf.paper
        for kind in KINDS
        for leaf in (kind.leaves(material) if kind.name in pack.printed else [])
        if leaf.key in pack.printed[kind.name]
    ]
    assert len(papers) == len(texts)
    wall = " ".join(
        text for paper, text in zip(papers, texts, strict=True) if isinstance(paper, BeforeWeStart)
    )
    return {
        caution.key
        for paper, text in zip(papers, texts, strict=True)
        for caution in paper.cautions
        if caution.brief not in text and caution.text not in wall
    }


@pytest.mark.parametrize("kind", [kind for kind in KINDS if kind.name != WALL_SHEET.name])
def test_no_pack_of_a_kind_lacks_a_caution_of_its_work(rolls, kind):
    try:
        kind.leaves(Material(plan_of(rolls), timezone.now()))
    except NotPrinted:
        pytest.skip("nothing to print")
    pack, lacking = pack_of(rolls, kind.name)
    assert pack.state == Pack.State.DONE
    assert lacking == set()


def test_a_pack_that_leaves_something_gets_the_sheet_and_without_it_that_is_found(
    rolls, monkeypatch
):
    pack, lacking = pack_of(rolls, "station-cards")
    assert list(pack.printed) == ["station-cards", "before-we-start"]
    assert lacking == set()
    monkeypatch.setattr(packs, "_wants_wall", lambda pack, made: False)
    pack, lacking = pack_of(rolls, "station-cards")
    assert list(pack.printed) == ["station-cards"]
    assert {"raw-flour", "raw-egg"} <= lacking


def test_a_pack_of_changes_brings_it_unless_it_was_printed_as_it_stands(rolls):
    pack_of(rolls, "before-we-start", "station-cards")
    rolls.enrollments.filter(pk=rolls.enrollments.first().pk).update(name="Somebody Else")
    pack, _ = pack_of(rolls, "station-cards", only_changed=True)
    assert list(pack.printed) == ["station-cards"]
    rolls.kitchen.guidance = Region.US
    rolls.kitchen.save()
    pack, lacking = pack_of(rolls, "station-cards", only_changed=True)
    assert list(pack.printed) == ["station-cards", "before-we-start"]
    assert lacking == set()


def test_a_paper_fetched_alone_leaves_out_nothing(rolls, client):
    client.force_login(rolls.instructor)
    answer = client.get(reverse("handouts:papers", args=[rolls.code, "station-cards"]))
    text = " ".join(page_texts(answer.content))
    for leaf in BY_NAME["station-cards"].leaves(Material(plan_of(rolls), NOW)):
        assert leaf.paper.foot.words in text
        assert MORE not in leaf.paper.foot.words

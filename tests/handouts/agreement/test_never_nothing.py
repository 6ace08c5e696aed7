"""Nobody is asked to weigh 0: too little for a scale is a solution, or asks for a finer one."""

import re
from decimal import Decimal

import pytest
from django.urls import reverse

from classes.access import home_token
from classes.amounts.exporting import amounts_document
from classes.selectors import class_plan
from handouts.catalog import KINDS
from handouts.kind import Material, NotPrinted
from handouts.press.render import to_html
from tests.handouts.conftest import NOW, another_class, plan_of, planned
from tests.handouts.pdfs import plain

NOTHING = re.compile(r'weigh"[^>]*>\s*0(?:\.0+)?\s*<|(?<![\d.,])0(?:\.0+)?(?:\s|&nbsp;|\u00a0)g\b')
LEAST = [("Hearth loaf", "50"), ("Two-day rye batard", "200"), ("Pillow rolls", "12")]


@pytest.fixture(params=LEAST, ids=[title for title, _ in LEAST])
def tiny(demo, request):
    """So little dough that yeast and salt are a fraction of a gram, on 1 g scales."""
    title, piece_g = request.param
    demo.kitchen.scales.exclude(step_g=1).delete()
    session = another_class(demo, title, students=2, demonstration_batches=1)
    session.taught.update(piece_g=Decimal(piece_g))
    return session


def pages_of(session, client):
    """What is asked of people, by where it stands."""
    material = Material(class_plan(planned(session)), NOW)
    for kind in KINDS:
        try:
            for leaf in kind.leaves(material):
                yield f"{kind.name} {leaf.label}", to_html(leaf.paper)
        except NotPrinted:
            continue
    for name in ("amounts", "prepare"):
        address = reverse(f"classes:{name}", args=[session.code])
        yield name, client.get(address).content.decode()
    home = reverse("handouts:at_home", args=[home_token(session.enrollments.first())])
    yield "at home", client.get(home).content.decode()


def test_the_search_for_nothing_finds_it():
    for page in ('<td class="g weigh">0</td>', '<b class="weigh">0.0</b>', "take 0&nbsp;g of it"):
        assert NOTHING.search(page)
    for page in ('<td class="g weigh">0.26</td>', "10 g", "100 g", '<b class="weigh">10</b>'):
        assert not NOTHING.search(page)


def test_nowhere_is_nothing_to_be_weighed(tiny, teacher):
    pages = dict(pages_of(tiny, teacher))
    assert {"amounts", "prepare", "at home", "preparation ", "tub-labels "} <= set(pages)
    assert {
        where: found[0] for where, page in pages.items() if (found := NOTHING.search(page))
    } == {}


def test_what_is_too_little_says_how_it_is_weighed(tiny, teacher):
    told = {where: plain(page) for where, page in pages_of(tiny, teacher)}
    for where in ("preparation ", "tub-labels ", "amounts", "prepare"):
        assert re.search(r"solution of 1 g in \d+ g|use a finer one", told[where]), where


def test_the_export_says_the_exact_mass_and_how_it_is_weighed(tiny):
    document = amounts_document(plan_of(tiny))
    lines = [
        line
        for listed in ("students", "demonstrations", "stations", "pooled")
        for entry in document[listed]
        for line in entry["lines"]
    ]
    assert all(Decimal(line["weighed_g"]) > 0 for line in lines)
    small = [line for line in lines if Decimal(line["exact_g"]) < Decimal("0.75")]
    assert small
    for line in small:
        assert re.search(
            r"^solution of 1 g in \d+ g .+|^too little for the scales here", line["weighed_as"]
        )

"""A class whose recipe leaves something unsaid: no page says that it fits, and all say why."""

from __future__ import annotations

import re
from io import BytesIO

import pytest
from django.urls import reverse
from pypdf import PdfReader

from classes.hours.answers import class_answer
from classes.models import ClassSession
from classes.selectors import class_plan
from handouts.catalog import KINDS
from handouts.press import kept
from handouts.press.render import print_html
from tests.classes.hours.hours_classes import STEPS, baking_class, loaf
from tests.factories import StepFactory, UserFactory
from tests.worlds import anew, made_once

pytestmark = pytest.mark.django_db


def steps(**changes):
    """The steps of the loaf, those of a kind with other fields; None leaves them out."""
    return [
        step | changes.get(step["kind"], {})
        for step in STEPS
        if changes.get(step["kind"], {}) is not None
    ]


GAPS = {
    "no bake": (steps(bake=None), "Hearth loaf: it has no step that bakes."),
    "no oven temperature": (
        steps(bake={"temperature_c": None}),
        "Hearth loaf, step 5 (bake): it does not say how hot the oven is.",
    ),
    "a bake with the dough's temperature": (
        steps(bake={"temperature_c": 96, "temperature_of": "dough"}),
        "Hearth loaf, step 5 (bake): it does not say how hot the oven is.",
    ),
    "a cold oven": (
        steps(bake={"temperature_c": 0}),
        "Hearth loaf, step 5 (bake): an oven at 0 °C (32 °F) bakes nothing.",
    ),
    "no times": (
        steps(divide={"hands_on_min": 0}),
        "Hearth loaf, step 3 (divide and shape): it does not say how many minutes it takes.",
    ),
    "a rise in a hot oven": (
        steps(proof={"temperature_c": 230}),
        "Hearth loaf, step 4 (proof): no dough rises at 230 °C (450 °F).",
    ),
    "a rise in a freezer": (
        steps(bulk={"temperature_c": -18}),
        "Hearth loaf, step 2 (bulk fermentation): no dough rises at −18 °C (0 °F).",
    ),
    "the dough's or the room's": (
        steps(proof={"temperature_of": "", "temperature_c": 28}),
        "Hearth loaf, step 4 (proof): 28 °C (82 °F) may be the dough’s or the room’s, and here "
        "that makes a difference.",
    ),
}


def said(response) -> str:
    return " ".join(response.content.decode().split()).replace("\xa0", " ")


def klass(instructor, steps, **fields) -> ClassSession:
    return baking_class(instructor, revision=loaf(instructor, steps=steps, in_use=True), **fields)


class_made_once = made_once(lambda: klass(UserFactory(username="ines"), STEPS))


@pytest.fixture
def whole(class_made_once, db):
    """A class that lacks nothing."""
    return anew(class_made_once)


@pytest.fixture
def instructor(whole):
    return whole.instructor


@pytest.fixture(params=list(GAPS))
def gap(request, whole):
    """The class with a gap, and the sentence that names it."""
    steps, sentence = GAPS[request.param]
    revision = whole.taught.get().revision
    revision.steps.all().delete()
    for position, step in enumerate(steps):
        StepFactory(revision=revision, position=position, **step)
    return ClassSession.objects.with_plan().get(pk=whole.pk), sentence


def page(client, name, session, **query) -> str:
    answer = client.get(reverse(name, args=[session.code]), query)
    assert answer.status_code == 200
    return said(answer)


@pytest.mark.parametrize(
    "name", ["classes:hours", "classes:edit", "classes:hours_settings", "classes:detail"]
)
def test_pages_say_that_they_cannot_say_and_why(instructor_client, gap, name):
    session, sentence = gap
    found = page(instructor_client, name, session)
    assert "<strong>Cannot say</strong>" in found
    assert "<strong>Fits</strong>" not in found
    assert "to spare" not in found
    assert sentence in found
    assert reverse("recipes:edit", args=[session.taught.get().revision.recipe.slug]) in found


def test_the_same_class_with_nothing_missing_fits(instructor_client, whole):
    found = page(instructor_client, "classes:hours", whole)
    assert "<strong>Fits</strong>" in found
    assert "Cannot say" not in found


def test_home_says_it_of_a_coming_class(instructor_client, instructor):
    sentence = "Hearth loaf: it has no step that bakes."
    session = klass(instructor, steps(bake=None))
    found = said(instructor_client.get("/"))
    assert "Cannot say whether it fits its hours." in found
    assert sentence in found
    assert reverse("classes:hours", args=[session.code]) in found


def test_home_says_nothing_of_a_class_that_lacks_nothing(instructor_client, whole):
    assert "Cannot say" not in said(instructor_client.get("/"))


@pytest.mark.parametrize("name", ["classes:what_if", "handouts:desk"])
def test_other_pages_of_the_class_open(instructor_client, gap, name):
    page(instructor_client, name, gap[0])


@pytest.mark.parametrize("name", ["classes:rise", "classes:water", "recipes:detail"])
def test_pages_of_the_recipe_open(instructor_client, gap, name):
    slug = gap[0].taught.get().revision.recipe.slug
    assert instructor_client.get(reverse(name, args=[slug])).status_code == 200


LAID_OUT: dict[tuple[str, ...], bytes] = {}
WORDS = re.compile(r">[^<]+<|\d+")


@pytest.fixture
def like_laid_out_once(monkeypatch, today):
    """Papers of the same elements are laid out with the first, for only their words are others."""

    def laid_out(pages, style, *rest) -> bytes:
        like = (style, *sorted({WORDS.sub("><", page) for page in pages}))
        if like not in LAID_OUT:
            LAID_OUT[like] = print_html(pages, style, *rest)
        return LAID_OUT[like]

    monkeypatch.setattr(kept, "print_html", laid_out)


def test_every_paper_is_made_or_says_why_not(like_laid_out_once, instructor_client, gap):
    session, _ = gap
    for kind in KINDS:
        answer = instructor_client.get(
            reverse("handouts:papers", args=[session.code, kind.name]), {"page": "a4"}
        )
        assert answer.status_code in (200, 409), kind.name
        if answer.status_code == 409:
            assert "<h1" in said(answer)


def papers(client, session, kind):
    return client.get(reverse("handouts:papers", args=[session.code, kind]), {"page": "a4"})


def words_of(answer) -> str:
    assert answer.status_code == 200
    pages = PdfReader(BytesIO(answer.content)).pages
    return " ".join(" ".join(page.extract_text() for page in pages).split()).replace("\xa0", " ")


def test_the_run_sheet_names_what_is_missing_and_no_time_to_spare(instructor_client, gap):
    session, sentence = gap
    told = words_of(papers(instructor_client, session, "run-sheet-instructor"))
    assert "Cannot say whether it fits: the class ends at" in told
    assert sentence in told
    assert "to spare" not in told
    assert "the last bread is ready" not in told


def test_a_bake_without_a_temperature_is_never_at_0(instructor_client, instructor):
    session = klass(instructor, steps(bake={"temperature_c": None}))
    for kind in ("run-sheet-instructor", "oven-map"):
        told = words_of(papers(instructor_client, session, kind))
        assert not re.search(r"(?<![0-9])0 °C", told), kind
    assert "The recipe gives no temperature" in told
    found = page(instructor_client, "classes:hours", session)
    assert not re.search(r"(?<![0-9.])0 °C", found)


def test_an_oven_map_of_nothing_says_why_there_is_none(instructor_client, instructor):
    session = klass(instructor, steps(bake=None))
    assert papers(instructor_client, session, "oven-map").status_code == 409
    assert "Nothing is baked" in page(instructor_client, "handouts:desk", session)


def test_a_proof_at_the_end_is_waited_for(instructor_client, instructor):
    without = klass(instructor, steps(bake=None, cool=None, proof=None))
    ends = klass(instructor, steps(bake=None, cool=None))
    answers = [class_answer(class_plan(one)) for one in (without, ends)]
    assert answers[1].verdict.ready - answers[0].verdict.ready >= 40 - 10
    found = page(instructor_client, "classes:hours", ends)
    assert "<b>Proof</b>, Hearth loaf" in found

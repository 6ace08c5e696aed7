"""The PDF of the recipes at home says what the page says, on two pages, and in large type too."""

from __future__ import annotations

import pytest

from handouts.safety.cautions import DEFERRAL
from recipes.core.regions import HomeRegion
from recipes.services import set_home_region
from tests.classes.demo_class import demo_class
from tests.handouts.conftest import another_class, planned
from tests.handouts.home.kitchens import CUPS, TIN, pdf_of, printed_text, revision_key
from tests.handouts.pdfs import MM, page_texts, plain, reader


@pytest.fixture
def session(db):
    set_home_region(region=HomeRegion.US)
    return demo_class()


class TestThePdf:
    """The loaf of the worked home kitchen: in a tin, with cups, in a fan oven, at 18 °C."""

    def worked(self, session, **kept):
        return {**CUPS, "pans": {revision_key(session): TIN}, **kept}

    def test_it_says_what_the_page_says(self, stranger, session):
        answer = pdf_of(stranger, session, **self.worked(session, page="letter"))
        assert answer.headers["Content-Type"] == "application/pdf"
        assert "at-home-letter.pdf" in answer.headers["Content-Disposition"]
        printed = printed_text(answer)
        for fact in (
            "258.63 2 cups + 2 1/2 tbsp", "206.90 3/4 cup + 2 tbsp", "Table salt 6.1 6.09 1 tsp",
            "2.7 2.74 3/4 tsp", "450 °F (230 °C)",
            "400 °F (210 °C) with fan", "134 min", "80 min at 77 °F (25 °C)",
            "Make the water 97 °F (36 °C)", "Pour in 186 g of the water; hold back 21 g",
            "In a loaf pan, 8.5 × 4.5 × 2.5 in (21.6 × 11.4 × 6.4 cm): 1 × 520 g",
            "Right for it", "205 °F (96 °C) in the middle", "come away from the pan",
            DEFERRAL, "Flour is raw", "Lay it in the greased", "freeze",
        ):  # fmt: skip
            assert fact in printed

    @pytest.mark.parametrize(
        ("salt", "words"),
        [
            ("table-salt", "6.1 6.09 1 tsp"),
            ("coarse-flake-salt-light", "6.1 6.09 1 1/2 to 2 1/4 tsp by make"),
            ("coarse-flake-salt-dense", "6.1 6.09 1 to 1 1/2 tsp by make"),
        ],
    )
    def test_salt_is_the_same_grams_whatever_the_spoons(self, stranger, session, salt, words):
        assert words in printed_text(pdf_of(stranger, session, **self.worked(session, salt=salt)))

    @pytest.mark.parametrize(("yeast", "weighed"), [("active dry", "3.3"), ("fresh", "8.3")])
    def test_yeast_is_as_the_textbook_factors_give_it(self, stranger, session, yeast, weighed):
        printed = printed_text(pdf_of(stranger, session, **self.worked(session, yeast=yeast)))
        assert f"{weighed} g {yeast} yeast instead of 2.7 g instant yeast" in printed

    @pytest.mark.parametrize("page", ["a4", "letter"])
    def test_one_recipe_takes_two_pages_with_cautions_at_the_end(self, stranger, session, page):
        home = self.worked(session, page=page, salt="coarse-flake-salt-light", yeast="active dry")
        first, second = page_texts(pdf_of(stranger, session, **home).content)
        assert "Flour is raw" not in first
        assert "Keeping it" in second
        assert "A burn: 20 minutes" in second.partition("Keeping it")[2]

    def test_a_recipe_with_a_preferment_takes_two_pages_too(self, stranger, session):
        own = planned(another_class(session, "Two-day rye batard", students=1))
        assert len(page_texts(pdf_of(stranger, own, **self.worked(own)).content)) == 2

    def test_large_type_has_no_letter_under_16_points_in_its_text(self, stranger, session):
        usual, large = (
            pdf_of(stranger, session, **self.worked(session, large=is_large)).content
            for is_large in (False, True)
        )
        assert least_points(usual) < 12
        assert least_points(large) >= 16
        assert all(fact in plain(" ".join(page_texts(large))) for fact in ("3/4 cup", DEFERRAL))

    def test_its_drawings_are_told_in_words_for_who_cannot_see_them(self, stranger, session):
        told = alternatives(pdf_of(stranger, session, **self.worked(session)).content)
        assert len(told) == 2
        assert "The loaf pan from the side" in told[0]
        assert told[1].startswith("4 drawings of shaping a log for a pan. 1. Pat it flat")


def least_points(pdf):
    """The smallest type of the text between head and foot of an A4 sheet, in points."""
    sizes = []
    for sheet in reader(pdf).pages:
        high = float(sheet.mediabox.height)

        def visit(text, outer, matrix, _font, size, high=high):
            up = outer[5] + outer[3] * matrix[5]
            if text.strip() and 33 * MM < up < high - 33 * MM:
                sizes.append(abs(size * outer[3] * matrix[3]))

        sheet.extract_text(visitor_text=visit)
    return round(min(sizes), 1)


def alternatives(pdf):
    """What stands for the figures of a tagged PDF, in their order."""
    root = reader(pdf).trailer["/Root"]["/StructTreeRoot"]
    found = []

    def walk(node):
        node = node.get_object()
        if isinstance(node, list):
            for one in node:
                walk(one)
        elif hasattr(node, "get"):
            if node.get("/S") == "/Figure":
                found.append(plain(str(node.get("/Alt"))))
            elif "/K" in node:
                walk(node["/K"])

    walk(root["/K"])
    return found

"""A handout is a sheet for each recipe, filled as a person would fill it."""

from __future__ import annotations

import pytest

from classes.models import Kitchen
from handouts.kinds.handout import handouts
from handouts.press.render import PageSize
from tests.handouts.conftest import NOW, plan_of
from tests.handouts.layouts import faults, laid_out


@pytest.mark.parametrize("page_size", PageSize)
def test_every_recipe_is_one_sheet_without_loose_ends(printed_all, page_size):
    found = {}
    for name, printed in printed_all.items():
        paper = printed.papers["handouts"][0]
        pages = laid_out(paper, page_size)
        assert len(pages) <= 2 * len(paper.recipes)
        found[name] = list(faults(pages))
    assert found == {name: [] for name in printed_all}


def test_a_kitchen_high_up_leaves_no_page_empty(demo, settings):
    """At 1,600 m in New York a line on boiling water stands above the grams."""
    settings.SITE_URL = "https://bread.thistlewick.example"
    Kitchen.objects.update(guidance="us", time_zone="America/New_York", altitude_m=1600)
    plan = plan_of(demo)
    (paper,) = handouts(plan, plan.students[:1], NOW)
    pages = laid_out(paper, PageSize.LETTER)
    assert list(faults(pages)) == []
    assert pages[0].filled > 0.5

"""A handout is a sheet for each recipe, filled as a person would fill it."""

from __future__ import annotations

import pytest

from handouts.press.render import PageSize
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

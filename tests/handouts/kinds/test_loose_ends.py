"""No paper ends in a scrap: pages are filled, and no heading, total or row stands alone."""

from __future__ import annotations

import pytest

from classes.management.commands.load_demo import load_demo
from handouts.catalog import KINDS
from handouts.kind import Material, NotPrinted
from handouts.press.render import PageSize
from tests.handouts.conftest import NOW, another_class, plan_of
from tests.handouts.layouts import faults, laid_out
from tests.worlds import made_once


def materials():
    demo = load_demo(now=NOW)
    two = another_class(demo, "Pillow rolls", "Seeded ring", students=9)
    return {"demo": Material(plan_of(demo), NOW), "two recipes": Material(plan_of(two), NOW)}


world = made_once(materials)


@pytest.mark.parametrize(
    ("name", "page_size"), [("demo", PageSize.LETTER), ("two recipes", PageSize.A4)]
)
@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.name)
def test_no_paper_has_loose_ends(db, world, kind, name, page_size):
    try:
        leaf = kind.leaves(world[name])[0]
    except NotPrinted:
        return
    assert list(faults(laid_out(leaf.paper, page_size))) == []

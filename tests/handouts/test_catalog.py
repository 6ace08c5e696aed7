"""The catalog lists every kind of paper, and each has what it is printed with."""

from importlib import import_module
from pkgutil import iter_modules

import pytest
from django.template.loader import get_template

from handouts import kinds
from handouts.catalog import BY_NAME, KINDS
from handouts.kind import PaperKind
from handouts.paper import Paper
from handouts.press.render import PageSize, sheet_texts

MODULES = [import_module(f"handouts.kinds.{found.name}") for found in iter_modules(kinds.__path__)]
every_module = pytest.mark.parametrize("module", MODULES, ids=lambda module: module.__name__)


def own(module, wanted):
    """The classes of papers that a module has of its own."""
    found = (value for value in vars(module).values() if isinstance(value, type))
    return [
        kind for kind in found if issubclass(kind, wanted) and kind.__module__ == module.__name__
    ]


@every_module
def test_every_module_has_a_paper_and_its_rows_in_the_catalog(module):
    rows = [value for value in vars(module).values() if isinstance(value, PaperKind)]
    assert own(module, Paper)
    assert rows
    assert [row.name for row in rows if row not in KINDS] == []


@every_module
def test_every_paper_has_a_template_and_a_style_sheet(module):
    for paper in own(module, Paper):
        assert get_template(paper.template)
        assert all(sheet_texts(paper.style, PageSize.A4))


def test_names_are_told_apart_and_places_stand_together():
    assert len(BY_NAME) == len(KINDS)
    places = [kind.place for kind in KINDS]
    assert places == sorted(places, key=places.index)

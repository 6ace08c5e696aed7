"""A recipe of the instructor's, and what a browser posts to use one."""

from __future__ import annotations

from typing import Any

import pytest

from recipes.core.regions import HomeRegion
from recipes.models import Revision
from recipes.services import set_home_region
from tests.factories import IngredientFactory, RevisionFactory, flour, water


@pytest.fixture
def bread(instructor) -> Revision:
    """One 160 g loaf of 100 g flour and 60 g water, at /recipes/bread/."""
    return RevisionFactory(
        recipe__owner=instructor,
        recipe__slug="bread",
        title="Plain bread",
        steps=[{"kind": "bake", "text": "Bake it.", "hands_on_min": 5, "waiting_min": 75}],
    )


@pytest.fixture
def shelf(db) -> dict[str, Any]:
    """The ingredients that the posted form names, in a book at home in the United States."""
    set_home_region(region=HomeRegion.US)
    return {
        "flour": flour(density_g_per_ml="0.5"),
        "water": water(),
        "rye": IngredientFactory(name="Rye flour", key="rye", kind="flour"),
        "egg": IngredientFactory(
            name="Egg", key="egg", kind="egg", each_g=50, each_name="large egg"
        ),
        "milk": IngredientFactory(name="Milk", key="milk", kind="liquid", density_g_per_ml="1.03"),
    }


@pytest.fixture
def posted(shelf) -> dict[str, str]:
    """A valid recipe form as a browser posts it, with an empty line and an empty step."""
    return {
        "title": "Morning loaf",
        "summary": "Plain.",
        "piece_name": "loaf",
        "pieces": "2",
        "piece_g": "500",
        "bake_loss_percent": "12",
        "dough_temperature_c": "77 F",
        "core_temperature_c": "96",
        "equipment": "Bowl\nScraper",
        "note": "",
        "part-0-kind": "dough",
        "part-0-name": "Dough",
        "part-0-for_pieces": "",
        "part-0-cooking_loss_percent": "",
        "part-0-line-0-amount": "500",
        "part-0-line-0-unit": "g",
        "part-0-line-0-ingredient": "Bread flour",
        "part-0-line-0-note": "sifted",
        "part-0-line-1-amount": "1 1/2",
        "part-0-line-1-unit": "cups",
        "part-0-line-1-ingredient": "water",
        "part-0-line-1-note": "",
        "part-0-line-2-amount": "",
        "part-0-line-2-unit": "",
        "part-0-line-2-ingredient": "",
        "part-0-line-2-note": "",
        "step-0-kind": "mix",
        "step-0-text": "Mix.",
        "step-0-hands_on_min": "20",
        "step-0-waiting_min": "1 h 20 min",
        "step-0-temperature_c": "25",
        "step-1-kind": "bake",
        "step-1-text": "",
        "step-1-hands_on_min": "",
        "step-1-waiting_min": "",
        "step-1-temperature_c": "",
    }

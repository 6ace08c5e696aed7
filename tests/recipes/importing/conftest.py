"""The shared ingredients as the importer sees them, straight from the table."""

import pytest

from recipes.importing.shelf import table_ingredients
from recipes.importing.text.matching import IngredientBook


@pytest.fixture(scope="session")
def book():
    return IngredientBook(table_ingredients())

"""The shared ingredients as the importer sees them, straight from the table."""

import pytest

from recipes.importing.text.matching import IngredientBook
from recipes.importing.values import KnownIngredient
from recipes.ingredients.table import read_table


def known(row):
    return KnownIngredient(
        key=row["key"],
        name=row["name"],
        kind=row["kind"],
        density_g_per_ml=row["density_g_per_ml"],
        each_g=row["each_g"],
        each_name=row["each_name"],
        packet_g=row["pack_g"] if row["kind"] == "yeast" else None,
    )


@pytest.fixture(scope="session")
def book():
    return IngredientBook(known(row) for row in read_table())

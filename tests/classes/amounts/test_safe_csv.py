"""Cells that a spreadsheet would run are made harmless, and numbers stay numbers."""

from __future__ import annotations

import pytest

from classes.safe_csv import harmless


@pytest.mark.parametrize(
    "cell",
    [
        "=1+1",
        "+1",
        "-1+1",
        "@SUM(A1)",
        "\t=1",
        "\r=1",
        "\n=1",
        "\0=1",
        "   =1",
        "\u00a0=1",
        "\u3000=1",
        "\u2003=1",
        "\ufeff=1",
        "\u200b=1",
        " \t=1",
        "\uff1d1",
        "\uff0b1+1",
        "\uff0d1+1",
        "\uff20x",
        "-",
        "--1",
        "-1e3",
        "-1\n=2",
        "=",
    ],
    ids=ascii,
)
def test_a_cell_that_could_be_a_formula_gets_an_apostrophe(cell):
    assert harmless(cell) == f"'{cell}"


@pytest.mark.parametrize("cell", ["-1", "-1.5", "-1,5", "-0.00", "12", "38.05"])
def test_a_plain_number_survives(cell):
    assert harmless(cell) == cell


@pytest.mark.parametrize("cell", ["", "Zoe", "a=b", "1-2", "x@example.org", None, -3, True])
def test_an_ordinary_cell_stays_as_it_is(cell):
    assert harmless(cell) is cell

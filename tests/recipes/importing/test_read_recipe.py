"""The command that reads a recipe's text and prints what was understood."""

from __future__ import annotations

import io
import json
import sys
from decimal import Decimal
from types import SimpleNamespace

import pytest
from django.core.management import CommandError, call_command

from recipes.core.regions import HomeRegion
from recipes.services import set_home_region

pytestmark = pytest.mark.django_db

TEXT = """Rolls
Makes 12 rolls of 70 g
500 g bread flour
salt to taste
all of the poolish
Method
Mix for 5 minutes and let rise 60-90 minutes.
Bake at 230 °C for 20 minutes.
Nutrition
Calories: 190
"""


def printed(path, **options):
    out = io.StringIO()
    call_command("read_recipe", str(path), stdout=out, **options)
    return out.getvalue()


@pytest.fixture
def path(tmp_path):
    path = tmp_path / "rolls.txt"
    path.write_text(TEXT, encoding="utf-8")
    return path


def test_a_text_is_printed_as_what_was_understood(path):
    found = json.loads(printed(path))
    assert set(found) == {"title", "yield", "parts", "steps", "left_out", "doubts"}
    assert (found["title"], found["yield"]) == ("Rolls", {"pieces": 12, "piece_g": "70"})
    (part,) = found["parts"]
    assert (part["name"], part["kind"]) == ("Dough", "dough")
    flour, salt = part["lines"][:2]
    assert flour == {
        "text": "500 g bread flour", "amount": "500", "unit": "g", "grams": "500",
        "ingredient": "bread-flour", "ingredient_name": "bread flour", "ingredient_kind": "flour",
        "doubts": [],
    }  # fmt: skip
    assert (salt["amount"], salt["unit"], salt["grams"]) == (None, None, None)
    assert salt["doubts"][0].startswith("No amount is written.")
    assert found["left_out"][-1] == "Calories: 190"


def test_steps_have_their_times_and_a_bake_its_stages(path):
    bake = json.loads(printed(path))["steps"][-1]
    assert bake == {
        "kind": "bake", "text": "Bake at 230 °C for 20 minutes.", "hands_on_min": 0,
        "waiting_min": 20, "temperature_c": "230", "doubts": [],
        "stages": [{"minutes": 20, "temperature_c": "230"}],
    }  # fmt: skip


def test_lines_for_people_have_their_doubts_below_them(path):
    lines = printed(path, format="text").splitlines()
    assert lines[:2] == ["Rolls", "12 x 70 g"]
    salt = next(n for n, line in enumerate(lines) if "[salt to taste]" in line)
    assert lines[salt].startswith("  ? g table-salt")
    assert lines[salt + 1].startswith("      ? No amount is written.")
    assert lines[-3:] == ["Left out", "  Nutrition", "  Calories: 190"]


def test_a_dash_reads_standard_input(path, monkeypatch):
    monkeypatch.setattr(sys, "stdin", SimpleNamespace(buffer=io.BytesIO(TEXT.encode())))
    assert printed("-") == printed(path)


@pytest.mark.parametrize("data", [None, b"\xff\xfe\x00", b"x\n" * 500])
def test_what_cannot_be_read_is_refused_in_words(tmp_path, data):
    path = tmp_path / "rolls.txt"
    if data is not None:
        path.write_bytes(data)
    with pytest.raises(CommandError, match=r"No such file|UTF-8|lines; a recipe has at most"):
        printed(path)


def test_another_region_is_refused(path):
    with pytest.raises(CommandError, match="invalid choice"):
        call_command("read_recipe", str(path), "--region", "moon")


@pytest.mark.parametrize(
    ("text", "region", "grams"),
    [
        ("1 tbsp honey", "us", "21.2"),
        ("1 tbsp honey", "au", "28.7"),
        ("1 tbsp honey\nAll in Australian tablespoons.", "uk", "28.7"),
        ("1 pint water", "us", "473.2"),
        ("1 pint water", "uk", "568.3"),
        ("1 US pint water", "uk", "473.2"),
        ("1 pint water\nUS measures", "uk", "473.2"),
        ("1 pint water\nUS cups or UK cups", "uk", "568.3"),
    ],
)
def test_measures_follow_the_region_given_or_named(tmp_path, text, region, grams):
    path = tmp_path / "text.txt"
    path.write_text(f"Loaf\n500 g bread flour\n{text}\n", encoding="utf-8")
    line = json.loads(printed(path, region=region))["parts"][0]["lines"][1]
    assert round(Decimal(line["grams"]), 1) == Decimal(grams)
    assert not any("countries differ" in doubt for doubt in line["doubts"])


def test_without_a_region_measures_are_those_of_the_book(tmp_path):
    set_home_region(region=HomeRegion.UK)
    path = tmp_path / "text.txt"
    path.write_text("Loaf\n500 g bread flour\n1 pint water\n", encoding="utf-8")
    water = json.loads(printed(path))["parts"][0]["lines"][1]
    assert round(Decimal(water["grams"]), 1) == Decimal("568.3")
    us = json.loads(printed(path, region="us"))["parts"][0]["lines"][1]
    assert round(Decimal(us["grams"]), 1) == Decimal("473.2")


def test_without_a_region_a_measure_is_a_guess_and_says_so(tmp_path):
    path = tmp_path / "text.txt"
    path.write_text("Loaf\n500 g bread flour\n1 tbsp honey\n", encoding="utf-8")
    line = json.loads(printed(path))["parts"][0]["lines"][1]
    assert "One tbsp is taken as 14.79 ml: countries differ." in line["doubts"]

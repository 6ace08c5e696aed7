"""The filters write figures as a scale, a card and a thermometer show them."""

from decimal import Decimal

import pytest
from django.template import Context, Template

from recipes.core.weighing import Scales, Weighing
from recipes.templatetags import amounts
from wording import durations, heat, masses


def plain(text: str) -> str:
    return text.replace("\N{NO-BREAK SPACE}", " ")


@pytest.mark.parametrize(
    ("grams", "step", "text"),
    [
        ("259", "1", "259"),
        ("6.1", "0.1", "6.1"),
        ("6", "0.1", "6.0"),
        ("0.30", "0.01", "0.30"),
        ("1E+3", "1", "1000"),
        ("25", "5", "25"),
        ("1.5", "0.5", "1.5"),
        ("100", "1E+1", "100"),
        ("0", "1", "0"),
    ],
)
def test_a_weighing_shows_exactly_the_places_of_its_step(grams, step, text):
    assert masses.grams(Weighing(Decimal(grams), Decimal(step), coarse=False)) == text


def test_a_weighing_from_the_core_reads_like_a_display():
    scales = Scales((Decimal(1), Decimal("0.1")))
    shown = [masses.grams(scales.weigh(Decimal(g))) for g in ("258.63", "6.0854", "2.7384")]
    assert shown == ["259", "6.1", "2.7"]


@pytest.mark.parametrize(
    ("filter_name", "value", "text"),
    [
        ("grams", Decimal("5.2E+2"), "520"),
        ("grams", Decimal("520.4"), "520.4"),
        ("exact", Decimal("258.6283"), "258.63"),
        ("exact", Decimal("1E+3"), "1000.00"),
        ("exact", Decimal("0.005"), "0.01"),
        ("grams", Decimal("6.0"), "6.0"),
        ("about", Decimal("457.60"), "457.6"),
        ("about", Decimal("1E+2"), "100"),
        ("about", Decimal("520.04"), "520"),
        ("percent", Decimal("68.000"), "68 %"),
        ("percent", Decimal("0.0300"), "0.03 %"),
        ("percent", Decimal("170.9"), "170.9 %"),
        ("percent", Decimal("1E+2"), "100 %"),
        ("percent_column", Decimal(85), "85.0\N{FIGURE SPACE}"),
        ("percent_column", Decimal("0.9"), "0.9\N{FIGURE SPACE}"),
        ("percent_column", Decimal("0.03"), "0.03"),
        ("percent_column", Decimal("33.3333"), "33.33"),
        ("degrees", Decimal("25.0"), "25 °C (77 °F)"),
        ("degrees", Decimal("96"), "96 °C (205 °F)"),
        ("degrees", Decimal("-18"), "−18 °C (0 °F)"),
        ("degrees", Decimal("25.5"), "25.5 °C (78 °F)"),
        ("minutes", 80, "1 h 20 min"),
        ("minutes", 720, "12 h"),
        ("minutes", 45, "45 min"),
        ("minutes", 0, "0 min"),
        ("cup", Decimal("0.5791"), "137"),
    ],
)
def test_a_value_is_written_as_people_read_it(filter_name, value, text):
    assert plain(amounts.register.filters[filter_name](value)) == text


@pytest.mark.parametrize(
    ("celsius", "of", "text"),
    [
        (Decimal(25), "Dough", "dough at 25 °C (77 °F)"),
        (Decimal(26), "Room or cabinet", "room or cabinet at 26 °C (79 °F)"),
        (Decimal(25), "", "at 25 °C (77 °F), not stated of what"),
        (None, "Refrigerator", "refrigerator, temperature not stated"),
        (None, "", ""),
    ],
)
def test_a_step_says_what_has_its_temperature(celsius, of, text):
    assert plain(heat.degrees_of(celsius, of)) == text


def test_figures_never_part_from_their_units():
    assert " " not in heat.degrees(Decimal(25)).replace(" (", "")
    assert " " not in durations.minutes(80)


def test_an_exact_mass_takes_as_many_places_as_asked():
    assert masses.exact(Decimal("1034.5231"), 1) == "1034.5"
    assert masses.exact(Decimal("1034.5231"), 0) == "1035"


def test_templates_can_load_them():
    html = Template("{% load amounts %}{{ value|percent }}").render(Context({"value": Decimal(2)}))
    assert plain(html) == "2 %"

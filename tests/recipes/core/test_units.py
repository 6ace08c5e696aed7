from decimal import Decimal

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from recipes.core.errors import (
    NoDensity,
    NoPieceMass,
    NotDecimal,
    OutOfRange,
    UnknownUnit,
    WrongMeasure,
)
from recipes.core.units import (
    AMBIGUOUS,
    UNITS,
    Measures,
    convert,
    parse_unit,
    to_celsius,
    to_fahrenheit,
    to_grams,
)

UNIT = {unit.name: unit for unit in UNITS}


@pytest.mark.parametrize(
    ("written", "name"),
    [
        ("g", "g"),
        ("G", "g"),
        ("gr", "g"),
        ("grams", "g"),
        ("Kg", "kg"),
        ("KG", "kg"),
        ("kilos", "kg"),
        ("mg", "mg"),
        ("Mg", "mg"),
        ("oz", "oz"),
        ("oz.", "oz"),
        ("ounces", "oz"),
        ("lb", "lb"),
        ("lbs.", "lb"),
        ("sticks", "stick"),
        ("ml", "ml"),
        ("mL", "ml"),
        ("ML", "ml"),
        ("cc", "ml"),
        ("cl", "cl"),
        ("dL", "dl"),
        ("L", "l"),
        ("litres", "l"),
        ("tsp", "tsp"),
        ("TSP.", "tsp"),
        ("Teaspoons", "tsp"),
        ("Tbsp", "tbsp"),
        ("tbs", "tbsp"),
        ("TABLESPOON", "tbsp"),
        ("cup", "cup"),
        ("Cups", "cup"),
        ("us cup", "US cup"),
        ("American cups", "US cup"),
        ("metric tablespoon", "metric tbsp"),
        ("Australian tablespoons", "Australian tbsp"),
        ("metric cup", "metric cup"),
        ("imperial cup", "imperial cup"),
        ("fl oz", "fl oz"),
        ("fl. oz.", "fl oz"),
        ("Fl.Oz", "fl oz"),
        ("pt", "pint"),
        ("qt", "quart"),
        ("gal", "gallon"),
        ("imperial  pints", "imperial pint"),
        ("pinch", "pinch"),
        ("dashes", "dash"),
        ("each", "each"),
        ("pieces", "each"),
        ("dozen", "dozen"),
        ("C", "°C"),
        ("°C", "°C"),
        ("deg C", "°C"),
        ("degrees c", "°C"),
        ("F", "°F"),
        ("Fahrenheit", "°F"),
        ("cm", "cm"),
        ("in", "in"),
        ("inches", "in"),
        ("min", "min"),
        ("MIN", "min"),
        ("hrs", "h"),
        ("  g ", "g"),
        ("\tfl\u00a0oz\n", "fl oz"),
    ],
)
def test_words_of_the_kitchen_are_understood(written, name):
    assert parse_unit(written).name == name


@pytest.mark.parametrize(
    "written",
    [
        pytest.param("", id="nothing"),
        pytest.param("   ", id="spaces"),
        pytest.param(".", id="a dot"),
        pytest.param("handful", id="handful"),
        pytest.param("blob", id="blob"),
        pytest.param("f", id="small f"),
        pytest.param("K", id="kelvin"),
        pytest.param("picoinch", id="what pint makes of pinch"),
        pytest.param("kilocup", id="prefix on a cup"),
        pytest.param("g/ml", id="compound"),
        pytest.param("gram ** 2", id="expression"),
        pytest.param("2 g", id="number and unit"),
        pytest.param("coulomb", id="physics"),
        pytest.param("<b>g</b>", id="markup"),
        pytest.param("g" * 100_000, id="absurdly long"),
        pytest.param("ｇ", id="full-width letter"),
        pytest.param("г", id="cyrillic letter"),
    ],
)
def test_other_words_are_refused(written):
    with pytest.raises(UnknownUnit):
        parse_unit(written)


@pytest.mark.parametrize(
    ("written", "suggestions"),
    [
        ("t", ("tsp", "tbsp")),
        ("T", ("tbsp", "tsp")),
        ("T.", ("tbsp", "tsp")),
        ("c", ("cup", "cl")),
        ("c.", ("cup", "cl")),
    ],
)
def test_letters_that_mean_two_things_are_asked_back(written, suggestions):
    with pytest.raises(UnknownUnit) as caught:
        parse_unit(written)
    assert caught.value.suggestions == suggestions


@pytest.mark.parametrize(
    ("written", "suggestion"),
    [("tabelspoon", "tbsp"), ("gramms", "g"), ("cupps", "cup"), ("ounze", "oz"), ("litr", "l")],
)
def test_a_slip_of_the_pen_gets_a_suggestion(written, suggestion):
    with pytest.raises(UnknownUnit) as caught:
        parse_unit(written)
    assert suggestion in caught.value.suggestions


def test_what_is_like_nothing_gets_no_suggestion():
    with pytest.raises(UnknownUnit) as caught:
        parse_unit("xyzzyx")
    assert (caught.value.word, caught.value.suggestions) == ("xyzzyx", ())


def test_no_word_stands_for_two_units():
    words = [(word, unit.name) for unit in UNITS for word in unit.words if word]
    assert len({word for word, _ in words}) == len(words)


WORDS = sorted({word for unit in UNITS for word in unit.words if len(word) > 1})


@given(word=st.sampled_from(WORDS), change=st.sampled_from([str.upper, str.lower, str.title]))
def test_capitals_do_not_change_a_word(word, change):
    assert parse_unit(change(word)) is parse_unit(word)


@given(st.text(max_size=8))
def test_any_text_is_either_a_unit_or_refused_by_name(text):
    try:
        unit = parse_unit(text)
    except UnknownUnit:
        return
    assert unit in UNITS


EXACT = {
    "g": "1",
    "kg": "1000",
    "mg": "0.001",
    "oz": "28.349523125",
    "lb": "453.59237",
    "stick": "113.3980925",
    "ml": "1",
    "cl": "10",
    "dl": "100",
    "l": "1000",
    "tsp": "4.92892159375",
    "tbsp": "14.78676478125",
    "cup": "236.5882365",
    "US cup": "236.5882365",
    "US pint": "473.176473",
    "metric tsp": "5",
    "metric tbsp": "15",
    "Australian tbsp": "20",
    "metric cup": "250",
    "fl oz": "29.5735295625",
    "pint": "473.176473",
    "quart": "946.352946",
    "gallon": "3785.411784",
    "imperial cup": "284.130625",
    "imperial gallon": "4546.09",
    "imperial quart": "1136.5225",
    "imperial pint": "568.26125",
    "imperial fl oz": "28.4130625",
    "pinch": "0.308057599609375",
    "dash": "0.61611519921875",
    "cm": "10",
    "mm": "1",
    "in": "25.4",
    "min": "1",
    "h": "60",
}


@pytest.mark.parametrize("name", EXACT)
def test_one_of_each_unit_is_exactly_as_defined(name):
    unit = UNIT[name]
    assert convert(Decimal(1), unit, unit.measures) == Decimal(EXACT[name])


def test_every_unit_that_converts_is_in_the_table():
    without = {Measures.COUNT, Measures.TEMPERATURE}
    assert {unit.name for unit in UNITS if unit.measures not in without} == set(EXACT)


# What pint calls the units that it knows and reads as cooks do.
PINT_AGREES = {
    "g": "gram",
    "kg": "kilogram",
    "mg": "milligram",
    "oz": "ounce",
    "lb": "pound",
    "ml": "milliliter",
    "cl": "centiliter",
    "dl": "deciliter",
    "l": "liter",
    "tsp": "teaspoon",
    "tbsp": "tablespoon",
    "cup": "cup",
    "fl oz": "fluid_ounce",
    "pint": "pint",
    "quart": "quart",
    "gallon": "gallon",
    "imperial cup": "imperial_cup",
    "imperial gallon": "imperial_gallon",
    "imperial quart": "imperial_quart",
    "imperial pint": "imperial_pint",
    "imperial fl oz": "imperial_fluid_ounce",
    "cm": "centimeter",
    "in": "inch",
    "h": "hour",
}
PINT_TARGET = {
    Measures.MASS: "gram",
    Measures.VOLUME: "milliliter",
    Measures.LENGTH: "millimeter",
    Measures.TIME: "minute",
}


@pytest.fixture(scope="module")
def registry():
    return pint.UnitRegistry()


@pytest.mark.parametrize("name", PINT_AGREES)
def test_where_pint_is_right_we_agree_to_the_limit_of_its_floats(name, registry):
    unit = UNIT[name]
    theirs = registry.Quantity(7, PINT_AGREES[name]).to(PINT_TARGET[unit.measures]).magnitude
    ours = convert(Decimal(7), unit, unit.measures)
    assert float(ours) == pytest.approx(theirs, rel=1e-14)


@pytest.mark.parametrize(
    ("word", "theirs", "ours"),
    [
        pytest.param("pinch", "[length]", Measures.VOLUME, id="pinch is no picoinch"),
        pytest.param("C", "[current] * [time]", Measures.TEMPERATURE, id="C is no coulomb"),
        pytest.param(
            "F",
            "[current] ** 2 * [time] ** 4 / [length] ** 2 / [mass]",
            Measures.TEMPERATURE,
            id="F is no farad",
        ),
        pytest.param("t", "[mass]", None, id="t is no metric ton"),
        pytest.param("T", "[mass] / [current] / [time] ** 2", None, id="T is no tesla"),
        pytest.param("c", "[length] / [time]", None, id="c is no speed of light"),
    ],
)
def test_where_pint_misreads_a_kitchen_word_we_do_not(word, theirs, ours, registry):
    assert registry.Quantity(1, word).dimensionality == registry.get_dimensionality(theirs)
    if ours is None:
        assert word in AMBIGUOUS
    else:
        assert parse_unit(word).measures is ours


@pytest.mark.parametrize(
    ("word", "theirs_in_base", "ours"),
    [
        pytest.param("gr", 0.06479891, Decimal(1), id="gr is a gram, not a grain"),
        pytest.param("Mg", 1e6, Decimal("0.001"), id="Mg is no megagram"),
        pytest.param("ML", 1e9, Decimal(1), id="ML is no megaliter"),
    ],
)
def test_where_pint_reads_another_size_we_read_the_cooks(word, theirs_in_base, ours, registry):
    unit = parse_unit(word)
    theirs = registry.Quantity(1, word).to(PINT_TARGET[unit.measures]).magnitude
    assert theirs == pytest.approx(theirs_in_base)
    assert convert(Decimal(1), unit, unit.measures) == ours


@pytest.mark.parametrize("word", ["stick", "dash", "dozen", "each", "Tbsp", "tbs"])
def test_words_that_pint_lacks_are_in_our_vocabulary(word, registry):
    with pytest.raises(pint.UndefinedUnitError):
        registry.Quantity(1, word)
    assert parse_unit(word) in UNITS


@pytest.mark.parametrize(
    ("amount", "unit", "known", "grams"),
    [
        ("2", "lb", {}, "907.18474"),
        ("0.5", "stick", {}, "56.69904625"),
        ("2", "cup", {"density_g_per_ml": Decimal("0.5")}, "236.5882365"),
        ("1", "pinch", {"density_g_per_ml": Decimal("1.2")}, "0.36966911953125"),
        ("3", "each", {"each_g": Decimal(50)}, "150"),
        ("1.5", "dozen", {"each_g": Decimal(50)}, "900"),
        ("0", "kg", {}, "0"),
        ("2", "kg", {"density_g_per_ml": Decimal(9), "each_g": Decimal(9)}, "2000"),
    ],
    ids=lambda value: str(value),
)
def test_masses_volumes_and_counts_become_grams(amount, unit, known, grams):
    assert to_grams(Decimal(amount), UNIT[unit], **known) == Decimal(grams)


@pytest.mark.parametrize(
    ("unit", "known", "error"),
    [
        pytest.param("cup", {}, NoDensity, id="volume without a density"),
        pytest.param("cup", {"each_g": Decimal(50)}, NoDensity, id="piece mass does not help"),
        pytest.param("each", {}, NoPieceMass, id="count without a mass apiece"),
        pytest.param("dozen", {"density_g_per_ml": Decimal(1)}, NoPieceMass, id="dozen"),
        pytest.param("°C", {}, WrongMeasure, id="temperature"),
        pytest.param("in", {}, WrongMeasure, id="length"),
        pytest.param("min", {}, WrongMeasure, id="time"),
        pytest.param("cup", {"density_g_per_ml": 0.5}, NotDecimal, id="float density"),
        pytest.param("cup", {"density_g_per_ml": Decimal(0)}, OutOfRange, id="no density at all"),
        pytest.param("cup", {"density_g_per_ml": Decimal(-1)}, OutOfRange, id="minus density"),
        pytest.param("each", {"each_g": 50.0}, NotDecimal, id="float piece mass"),
        pytest.param("each", {"each_g": Decimal(0)}, OutOfRange, id="weightless piece"),
    ],
)
def test_what_cannot_become_grams_is_refused_by_name(unit, known, error):
    with pytest.raises(error):
        to_grams(Decimal(1), UNIT[unit], **known)


@pytest.mark.parametrize("amount", [1.5, Decimal("NaN"), "1", None], ids=repr)
def test_amounts_are_decimals(amount):
    with pytest.raises(NotDecimal):
        to_grams(amount, UNIT["g"])
    with pytest.raises(NotDecimal):
        convert(amount, UNIT["g"], Measures.MASS)
    with pytest.raises(NotDecimal):
        to_celsius(amount, UNIT["°F"])
    with pytest.raises(NotDecimal):
        to_fahrenheit(amount)


@pytest.mark.parametrize(
    ("unit", "measures"),
    [
        ("g", Measures.VOLUME),
        ("cup", Measures.MASS),
        ("°C", Measures.TEMPERATURE),
        ("each", Measures.COUNT),
        ("min", Measures.LENGTH),
    ],
)
def test_only_measures_of_one_kind_convert(unit, measures):
    with pytest.raises(WrongMeasure) as caught:
        convert(Decimal(1), UNIT[unit], measures)
    assert (caught.value.unit, caught.value.wanted) == (unit, measures)


@pytest.mark.parametrize(
    ("fahrenheit", "celsius"),
    [("32", "0"), ("212", "100"), ("-40", "-40"), ("446", "230"), ("77", "25"), ("0.5", "-17.5")],
)
def test_fahrenheit_and_celsius_meet(fahrenheit, celsius):
    assert to_celsius(Decimal(fahrenheit), UNIT["°F"]) == Decimal(celsius)
    assert to_fahrenheit(Decimal(celsius)) == Decimal(fahrenheit)
    assert to_celsius(Decimal(celsius), UNIT["°C"]) == Decimal(celsius)


def test_only_temperatures_become_celsius():
    with pytest.raises(WrongMeasure):
        to_celsius(Decimal(20), UNIT["g"])


amounts = st.decimals(min_value=0, max_value=100_000, places=3)


@given(amount=amounts, unit=st.sampled_from(UNITS), times=st.integers(2, 50))
def test_grams_grow_with_the_amount(amount, unit, times):
    if unit.measures not in (Measures.MASS, Measures.VOLUME, Measures.COUNT):
        return
    known = {"density_g_per_ml": Decimal("0.5791"), "each_g": Decimal(50)}
    once, often = (to_grams(n, unit, **known) for n in (amount, amount * times))
    assert abs(often - once * times) <= Decimal("1e-15")


@given(temperature=st.decimals(min_value=-60, max_value=600, places=2))
def test_a_temperature_survives_the_way_there_and_back(temperature):
    there = to_celsius(temperature, UNIT["°F"])
    assert abs(to_fahrenheit(there) - temperature) <= Decimal("1e-24")

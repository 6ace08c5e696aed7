"""Temperatures in a sentence of the method, in degrees Celsius."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import ROUND_HALF_UP, Decimal

from recipes.core.heat.fan_oven import FAN_LOWER_C, FAN_LOWER_F
from recipes.core.units import Unit, parse_unit, to_celsius
from recipes.importing.doubts import Doubt
from recipes.importing.method import unsure
from recipes.importing.method.spoken import spoken
from recipes.importing.text.numbers import Number, read_range, read_value
from recipes.importing.text.tokens import Token, text_of
from recipes.importing.text.words import word_set

TENTH = Decimal("0.1")
COLDEST_C, HOTTEST_C = Decimal(-30), Decimal(350)
REFRIGERATOR_C = Decimal(4)
# No dough rests this warm, and no oven bakes this cold.
LEAST_OVEN_C, LEAST_BAKE_C = Decimal(70), Decimal(120)

_SCALES = {
    "c": parse_unit("°C"),
    "celsius": parse_unit("°C"),
    "f": parse_unit("°F"),
    "fahrenheit": parse_unit("°F"),
}
_CELSIUS, _FAHRENHEIT = _SCALES["c"], _SCALES["f"]
_DEGREE_WORDS = {"°", "degrees", "degree", "deg"}
# No oven is set above 300 °C at home, so a bare higher number is Fahrenheit (from memory).
_HOTTEST_BARE_C = Decimal(300)
_LEAST_BARE = Decimal(15)
_LEAST_OVEN, _MOST_OVEN = Decimal(140), Decimal(550)
_WARMEST_BARE_C, _LEAST_BARE_F, _MOST_BARE_F = Decimal(40), Decimal(65), Decimal(110)
_SETTING = word_set("at @ to on bake oven stone reach reaches about")
_AFTER_SETTING = word_set(
    "for until about and then with fan or uncovered covered over after once when as if by now"
)
_AT = word_set("at @ /")
_SAME_C = Decimal(8)
_NEAR = 2
_FAN = {"fan", "convection", "air"}
_CORE = word_set("""internal inside core center centre centers centres middle thermometer interior
    probe""")
_HOTTEST_CORE_C, _MOST_CORE_F = Decimal(110), Decimal(220)


@dataclass(frozen=True, slots=True)
class Heat:
    """A temperature between two tokens, in degrees Celsius; `bare` if no unit is written."""

    start: int
    end: int
    celsius: Decimal
    scale: Unit
    doubts: tuple[Doubt, ...] = ()
    bare: bool = False
    fan: bool = False


def _word(tokens: Sequence[Token], i: int) -> str:
    return tokens[i].low if 0 <= i < len(tokens) else ""


def temperatures(tokens: Sequence[Token]) -> list[Heat]:
    """The temperatures of a sentence, each once.

    `230 °C (450 °F)` gives the one in Celsius, `200C/180C fan/gas 6` the conventional one.
    """
    found: list[Heat] = []
    i = 0
    while i < len(tokens):
        falling = _falling(tokens, i)
        found += falling
        heat = None if falling else _gas_mark(tokens, i) or _heat(tokens, i)
        if heat:
            _keep(found, heat)
        i = heat.end if heat else i + 1
    return [_conventional(tokens, heat) for heat in found]


def _falling(tokens: Sequence[Token], i: int) -> list[Heat]:
    """`250/230`: an oven's setting and the lower one after it."""
    high, _, low = tokens[i].text.partition("/")
    if not (high.strip().isdigit() and low.strip().isdigit()):
        return []
    if not _LEAST_OVEN <= Decimal(low) < Decimal(high) <= _HOTTEST_BARE_C:
        return []
    told = unsure.ScaleAssumed
    return [
        Heat(i, i + 1, Decimal(one), _CELSIUS, (told(one.strip(), Decimal(one)),), bare=True)
        for one in (high, low)
    ]


def _keep(found: list[Heat], heat: Heat) -> None:
    """Add a temperature, unless it repeats the last one."""
    last = found[-1] if found else None
    if last is None or not _says_again(last, heat):
        found.append(heat)
        return
    better = heat if _rank(heat) < _rank(last) else last
    found[-1] = replace(better, start=last.start, end=heat.end)


def _rank(heat: Heat) -> tuple[bool, bool, bool]:
    return heat.fan, heat.bare, heat.scale != _CELSIUS


def _says_again(last: Heat, heat: Heat) -> bool:
    if heat.start - last.end > _NEAR + max(last.fan, heat.fan):
        return False
    if last.fan != heat.fan:
        return True
    other = last.scale != heat.scale or last.bare != heat.bare
    return other and abs(last.celsius - heat.celsius) <= _SAME_C + 12 * (last.bare or heat.bare)


def _conventional(tokens: Sequence[Token], heat: Heat) -> Heat:
    """An oven's setting with a fan, as that without one."""
    if not heat.fan:
        return heat
    lower_c = FAN_LOWER_C if heat.scale == _CELSIUS else FAN_LOWER_F * 5 / 9
    celsius = (heat.celsius + lower_c).quantize(TENTH, ROUND_HALF_UP)
    told = unsure.FanConverted(heat.celsius, celsius)
    return replace(heat, celsius=celsius, doubts=(*heat.doubts, told))


# Gas marks in °C, as in British ovens and books (from memory).
_GAS_MARKS_C = {
    Decimal("0.25"): 110, Decimal("0.5"): 120, Decimal(1): 140, Decimal(2): 150,
    Decimal(3): 160, Decimal(4): 180, Decimal(5): 190, Decimal(6): 200, Decimal(7): 220,
    Decimal(8): 230, Decimal(9): 240,
}  # fmt: skip


def _gas_mark(tokens: Sequence[Token], i: int) -> Heat | None:
    """`gas mark 6`, `gas 6`, `mark 6`, as degrees with a doubt."""
    word = tokens[i].low
    if word not in ("gas", "mark"):
        return None
    at = i + 1 + (word == "gas" and _word(tokens, i + 1) == "mark")
    mark = read_value(tokens, at) if at < len(tokens) and tokens[at].is_number else None
    celsius = _GAS_MARKS_C.get(mark.value) if mark else None
    if mark is None or celsius is None:
        return None
    told = unsure.ScaleAssumed(text_of(tokens[i : mark.end]), Decimal(celsius))
    return Heat(i, mark.end, Decimal(celsius), _CELSIUS, (told,), bare=True)


def _heat(tokens: Sequence[Token], i: int) -> Heat | None:
    found = _written(tokens, i)
    if found is None:
        return None
    low, high = found
    end = high.end if high else low.end
    signed = _word(tokens, end) in _DEGREE_WORDS
    told_at = signed or _word(tokens, i - 1) in _AT
    scale = _scale(tokens, end + signed, low.value, signed=told_at)
    if scale and not high and (twin := _twin(tokens, end + signed + 1, scale)):
        high, end = twin, twin.end
    value = (low.value + high.value) / 2 if high else low.value
    bare = scale is None and not signed
    if value > _MOST_OVEN * 2 or (bare and not _is_setting(tokens, i, end, value)):
        return None
    end += (signed or _word(tokens, end) in _DEGREE_WORDS) + (scale is not None)
    inside = _CORE & {token.low for token in tokens[max(0, i - 8) : end + 6]}
    assumed = scale or _likely_scale(value, inside=bool(inside))
    celsius = _celsius(-value if _is_negative(tokens, i) else value, assumed)
    told: tuple[Doubt, ...] = ()
    if scale is None:
        told = (unsure.ScaleAssumed(text_of(tokens[i:end]), celsius),)
    if high:
        ends = (_celsius(number.value, assumed) for number in (low, high))
        told = (*told, unsure.TemperatureRange(*ends))
    return Heat(i, end, celsius, assumed, told, bare, _has_fan(tokens, i, end))


def _written(tokens: Sequence[Token], i: int) -> tuple[Number, Number | None] | None:
    """A number in digits, or one in words of an oven: `two hundred and twenty`."""
    if tokens[i].is_number:
        return read_range(tokens, i)
    words = spoken(tokens, i)
    return (words, None) if words and words.value >= _LEAST_OVEN else None


def _has_fan(tokens: Sequence[Token], start: int, end: int) -> bool:
    """`180C fan`, `fan 180C`, `180 °C with fan`."""
    behind = end + (_word(tokens, end) in ("with", "in"))
    return _word(tokens, behind) in _FAN or _word(tokens, start - 1) in _FAN


def is_of_core(tokens: Sequence[Token], heat: Heat) -> bool:
    """Whether it is the temperature inside the bread: `until the center reads 95 °C`."""
    near = {token.low for token in tokens[max(0, heat.start - 8) : heat.end + 6]}
    return bool(near & _CORE) and heat.celsius <= _HOTTEST_CORE_C


def _twin(tokens: Sequence[Token], i: int, scale: Unit) -> Number | None:
    """The upper end of `24 °C to 26 °C`."""
    if _word(tokens, i) not in ("-", "to") or i + 1 >= len(tokens):
        return None
    high = read_value(tokens, i + 1)
    if high is None or not tokens[i + 1].is_number:
        return None
    signed = _word(tokens, high.end) in _DEGREE_WORDS
    same = _scale(tokens, high.end + signed, high.value, signed=signed) == scale
    return high if same else None


def _likely_scale(value: Decimal, *, inside: bool) -> Unit:
    hot = value > _HOTTEST_BARE_C or _LEAST_BARE_F <= value <= _MOST_BARE_F
    hot = _HOTTEST_CORE_C < value <= _MOST_CORE_F if inside else hot
    return _FAHRENHEIT if hot else _CELSIUS


def _is_setting(tokens: Sequence[Token], start: int, end: int, value: Decimal) -> bool:
    """Whether a number with no unit is a temperature: `bake at 400`, `turn down to 190`."""
    behind, before = _word(tokens, end), _word(tokens, start - 1)
    oven = before in ("oven", "stone") and _LEAST_OVEN <= value <= _MOST_OVEN
    if (behind.isalpha() and behind not in _AFTER_SETTING and not oven) or behind in ("%", ":"):
        return False
    if _LEAST_OVEN <= value <= _MOST_OVEN:
        near = {token.low for token in tokens[max(0, start - 4) : start]}
        in_list = before == "," and bool(near & {"oven", "bake", "stone"})
        alone = start == 0 and behind == "," and value % 5 == 0
        return before in _SETTING or behind in _FAN or in_list or alone
    warm = _LEAST_BARE < value <= _WARMEST_BARE_C or _LEAST_BARE_F <= value <= _MOST_BARE_F
    if not warm or before not in _AT or behind in (",", "and", "+", "/"):
        return False
    return not any(token.low in ("fold", "folds") for token in tokens[max(0, start - 6) : start])


def _is_negative(tokens: Sequence[Token], i: int) -> bool:
    """Whether the dash before a number is its sign: a space before it and none after."""
    return _word(tokens, i - 1) == "-" and not tokens[i - 1].glued and tokens[i].glued


def _celsius(value: Decimal, scale: Unit) -> Decimal:
    return to_celsius(value, scale).quantize(TENTH, ROUND_HALF_UP)


def _scale(tokens: Sequence[Token], i: int, value: Decimal, *, signed: bool) -> Unit | None:
    if i >= len(tokens):
        return None
    word = tokens[i].text
    if signed or len(word) > 1:
        return _SCALES.get(word.lower())
    hot = value >= _LEAST_OVEN
    return _SCALES.get(word.lower()) if hot or (word.isupper() and value >= _LEAST_BARE) else None

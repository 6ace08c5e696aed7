"""Times and temperatures in a sentence of the method: minutes, and degrees Celsius."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from decimal import ROUND_CEILING, ROUND_HALF_UP, Decimal

from recipes.core.units import Unit, parse_unit, to_celsius
from recipes.importing import doubts
from recipes.importing.doubts import Doubt
from recipes.importing.text.numbers import read_range, read_value
from recipes.importing.text.tokens import Token, text_of
from recipes.importing.text.words import word_set

TENTH = Decimal("0.1")
COLDEST_C, HOTTEST_C = Decimal(-30), Decimal(350)
OVERNIGHT_MIN = 720

_MINUTES = {
    **dict.fromkeys(word_set("min mins minute minutes"), Decimal(1)),
    **dict.fromkeys(word_set("h hr hrs hour hours"), Decimal(60)),
    **dict.fromkeys(word_set("sec secs second seconds"), 1 / Decimal(60)),
    **dict.fromkeys(word_set("day days"), Decimal(1440)),
}
_MOST_NUMBER = Decimal(100_000)
_VAGUE = {"few", "several", "couple", "some"}
_NOT_A_LENGTH = {"every", "after", "within", "halfway", "last", "first"}
_POINTS_IN_TIME = {"ahead", "into", "apart"}
_SCALES = {
    "c": parse_unit("°C"),
    "celsius": parse_unit("°C"),
    "f": parse_unit("°F"),
    "fahrenheit": parse_unit("°F"),
}
_CELSIUS = _SCALES["c"]
_DEGREE_WORDS = {"°", "degrees", "degree", "deg"}
# No oven is set above 300 °C at home, so a bare higher number is Fahrenheit (from memory).
_HOTTEST_BARE_C = Decimal(300)
_LEAST_BARE = Decimal(15)
_LEAST_OVEN, _MOST_OVEN = Decimal(140), Decimal(550)
_AFTER_SETTING = {"for", "until", "about", "and", "then"}
_SAME_C = Decimal(8)
_NEAR = 2


@dataclass(frozen=True, slots=True)
class TimeSpan:
    """A time between two tokens, in minutes; `high` is the upper end of a range.

    `before` marks one that stands before that word: it may be a point in time and no length.
    """

    start: int
    end: int
    low: Decimal
    high: Decimal | None = None
    doubts: tuple[Doubt, ...] = ()
    before: bool = False

    @property
    def minutes(self) -> int:
        """Whole minutes: the middle of a range, rounded up."""
        middle = self.low if self.high is None else (self.low + self.high) / 2
        return int(middle.to_integral_value(ROUND_CEILING))


@dataclass(frozen=True, slots=True)
class Heat:
    """A temperature between two tokens, in degrees Celsius."""

    start: int
    end: int
    celsius: Decimal
    scale: Unit
    doubts: tuple[Doubt, ...] = ()


def _word(tokens: Sequence[Token], i: int) -> str:
    return tokens[i].low if 0 <= i < len(tokens) else ""


def times(tokens: Sequence[Token]) -> Iterator[TimeSpan | Doubt]:
    """The times of a sentence in order; a doubt in place of what is no length of time."""
    i = 0
    while i < len(tokens):
        if tokens[i].low == "overnight":
            vague = doubts.TimeVague(tokens[i].text, OVERNIGHT_MIN)
            yield TimeSpan(i, i + 1, Decimal(OVERNIGHT_MIN), doubts=(vague,))
            i += 1
            continue
        if tokens[i].low in _VAGUE and _word(tokens, i + 1) in _MINUTES:
            yield doubts.TimeVague(text_of(tokens[i : i + 2]), None)
            i += 2
            continue
        span = _span(tokens, i)
        if span is None:
            i += 1
            continue
        yield _counted(tokens, span)
        i = span.end


def _counted(tokens: Sequence[Token], span: TimeSpan) -> TimeSpan | Doubt:
    before, behind = _word(tokens, span.start - 1), _word(tokens, span.end)
    if before in _NOT_A_LENGTH or behind in _POINTS_IN_TIME:
        return doubts.TimeNotCounted(text_of(tokens[span.start : span.end]))
    span = replace(span, before=behind == "before")
    if span.high is None:
        return span
    low, high = (int(n.to_integral_value(ROUND_CEILING)) for n in (span.low, span.high))
    told = (*span.doubts, doubts.TimeRange(low, high, span.minutes))
    return replace(span, doubts=told)


def _span(tokens: Sequence[Token], i: int) -> TimeSpan | None:
    """`1 hour 20 minutes`, `45-60 min`, `45 min to 1 hour`, `an hour and a half`."""
    span = _simple(tokens, i)
    if span is None:
        return None
    if _word(tokens, span.end) in ("to", "-"):
        other = _simple(tokens, span.end + 1)
        if other and span.high is None and other.low > span.low:
            return replace(span, end=other.end, high=other.high or other.low)
    return span


def _simple(tokens: Sequence[Token], i: int) -> TimeSpan | None:
    found = read_range(tokens, i) if i < len(tokens) else None
    if found is None or found[0].value > _MOST_NUMBER:
        return None
    low, high = found
    end = high.end if high else low.end
    end += _word(tokens, end) in ("-", "more", "additional", "extra", "further")
    clock = _word(tokens, end)
    if clock[:1] == "h" and clock[1:].isdigit() and len(clock) == 3:
        return TimeSpan(i, end + 1, low.value * 60 + int(clock[1:]))
    unit = _MINUTES.get(clock)
    if unit is None or (high and high.value > _MOST_NUMBER):
        return None
    end += 1
    end += _word(tokens, end) == "." and tokens[end].glued and end + 1 < len(tokens)
    if high:
        return TimeSpan(i, end, low.value * unit, high.value * unit)
    return _with_rest(tokens, TimeSpan(i, end, low.value * unit), unit)


def _with_rest(tokens: Sequence[Token], span: TimeSpan, unit: Decimal) -> TimeSpan:
    """An hour with what stands behind it: `1 hour 20 minutes`, `an hour and a half`."""
    at = span.end + (_word(tokens, span.end) in ("and", ","))
    more = read_value(tokens, at)
    if more is None or more.value > _MOST_NUMBER:
        return span
    smaller = _MINUTES.get(_word(tokens, more.end))
    if smaller is not None and smaller < unit:
        return replace(span, end=more.end + 1, low=span.low + more.value * smaller)
    if more.spelled and more.value < 1 and _word(tokens, span.end) == "and":
        return replace(span, end=more.end, low=span.low + more.value * unit)
    return span


def temperatures(tokens: Sequence[Token]) -> list[Heat | Doubt]:
    """The temperatures of a sentence; of `230 °C (450 °F)` only the one in Celsius."""
    found: list[Heat | Doubt] = []
    i = 0
    while i < len(tokens):
        if tokens[i].low == "gas" and (end := _gas_mark(tokens, i)):
            found.append(doubts.ScaleAssumed(text_of(tokens[i:end]), None))
            i = end
            continue
        heat = _heat(tokens, i)
        if heat is None:
            i += 1
            continue
        _keep(found, heat)
        i = heat.end
    return found


def _gas_mark(tokens: Sequence[Token], i: int) -> int:
    at = i + 1 + (_word(tokens, i + 1) == "mark")
    return at + 1 if at < len(tokens) and tokens[at].is_number else 0


def _keep(found: list[Heat | Doubt], heat: Heat) -> None:
    """Add a temperature, unless it says the last one again on the other scale."""
    last = found[-1] if found else None
    if isinstance(last, Heat) and _says_again(last, heat):
        found[-1] = last if last.scale == _CELSIUS else heat
    else:
        found.append(heat)


def _says_again(last: Heat, heat: Heat) -> bool:
    near = heat.start - last.end <= _NEAR
    return near and last.scale != heat.scale and abs(last.celsius - heat.celsius) <= _SAME_C


def _heat(tokens: Sequence[Token], i: int) -> Heat | None:
    found = read_range(tokens, i) if tokens[i].is_number else None
    if found is None:
        return None
    low, high = found
    end = high.end if high else low.end
    signed = _word(tokens, end) in _DEGREE_WORDS
    scale = _scale(tokens, end + signed, low.value, signed=signed)
    value = (low.value + high.value) / 2 if high else low.value
    if scale is None and not signed and not _is_oven(tokens, i, end, value):
        return None
    end += signed + (scale is not None)
    assumed = scale or (_SCALES["f"] if value > _HOTTEST_BARE_C else _CELSIUS)
    if value > _MOST_NUMBER or (high and high.value > _MOST_NUMBER):
        return None
    celsius = _celsius(-value if _is_negative(tokens, i) else value, assumed)
    told: tuple[Doubt, ...] = ()
    if scale is None:
        told = (doubts.ScaleAssumed(text_of(tokens[i:end]), celsius),)
    if high:
        ends = (_celsius(number.value, assumed) for number in (low, high))
        told = (*told, doubts.TemperatureRange(*ends))
    return Heat(i, end, celsius, assumed, told)


def _is_oven(tokens: Sequence[Token], start: int, end: int, value: Decimal) -> bool:
    """Whether a bare number is an oven's setting: `bake at 400`, with no word of a unit."""
    behind = _word(tokens, end)
    bare = behind in _AFTER_SETTING or not (behind.isalpha() or behind == "%")
    return bare and _word(tokens, start - 1) == "at" and _LEAST_OVEN <= value <= _MOST_OVEN


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
    return _SCALES.get(word.lower()) if word.isupper() and value >= _LEAST_BARE else None

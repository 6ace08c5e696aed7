"""Filters that only format: lengths, loads, gaps, bowls, and the names of arrangements."""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Decimal

from django import template

from recipes.core.pans.balls import Meeting, Touch
from recipes.core.pans.packing import Arrangement, Pattern
from recipes.core.pans.plan import MostThatFit
from recipes.core.pans.sizes import (
    DoughLoad,
    LoadBy,
    Pan,
)
from recipes.core.units import (
    Measures,
    convert,
    parse_unit,
)
from recipes.templatetags.amounts import NBSP

register = template.Library()

ONE, TENTH, HUNDREDTH, THOUSANDTH = (Decimal(places) for places in ("1", "0.1", "0.01", "0.001"))
CM_PER_INCH = Decimal("2.54")
ML_PER_LITER = Decimal(1000)
SIGNS = {Touch.TOUCH: "●", Touch.NEARLY: "◐", Touch.APART: "○"}


def _short(places: Decimal, value: Decimal) -> str:
    text = format(value.quantize(places, ROUND_HALF_UP), "f")
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return text.replace("-", "\N{MINUS SIGN}") if text != "-0" else "0"


@register.filter
def length(size_cm: Decimal) -> str:
    """A length both ways: `23 cm (9.1 in)`."""
    inches = _short(TENTH, size_cm / CM_PER_INCH)
    return f"{_short(TENTH, size_cm)}{NBSP}cm ({inches}{NBSP}in)"


@register.filter
def pan_size(pan: Pan) -> str:
    """A pan's outline both ways: `23 cm (9.1 in)`, or `33 × 23 cm (13 × 9.1 in)`."""
    if pan.shape.has_one_size:
        return length(pan.length_cm)
    sizes = (pan.length_cm, pan.width_cm)
    in_cm = " × ".join(_short(TENTH, size) for size in sizes)
    inches = " × ".join(_short(TENTH, size / CM_PER_INCH) for size in sizes)
    return f"{in_cm}{NBSP}cm ({inches}{NBSP}in)"


@register.filter
def pan_words(pan: Pan) -> str:
    """What a pan is called: `round pan`, `tray`."""
    return pan.shape.value if pan.shape == "tray" else f"{pan.shape.value} pan"


@register.filter
def load(value: DoughLoad) -> str:
    """A dough load with its unit: `1.54 g/cm²`, `0.397 g/cm³`."""
    places = HUNDREDTH if value.by is LoadBy.AREA else THOUSANDTH
    return f"{value.grams.quantize(places, ROUND_HALF_UP):f}{NBSP}{value.by}"


@register.filter
def times(factor: Decimal) -> str:
    """A factor: `× 1.23`."""
    return f"×{NBSP}{factor.quantize(HUNDREDTH, ROUND_HALF_UP):f}"


@register.filter
def liters(volume_ml: Decimal) -> str:
    """A volume: `1.4 liters`."""
    return f"{(volume_ml / ML_PER_LITER).quantize(TENTH, ROUND_HALF_UP):f}{NBSP}liters"


@register.filter
def us_cups(volume_ml: Decimal) -> str:
    """A volume: `5.8 US cups`."""
    cup_ml = convert(ONE, parse_unit("cup"), Measures.VOLUME)
    return f"{_short(TENTH, volume_ml / cup_ml)}{NBSP}US cups"


@register.filter
def lies(found: Arrangement) -> str:
    """How pieces lie: `8 around 3`, `3 straight rows of 4`, `staggered rows of 4, 3 and 4`."""
    counts = found.counts
    match found.pattern:
        case Pattern.HONEYCOMB:
            return "a honeycomb"
        case Pattern.SCATTERED:
            return "as drawn, in no rows"
        case Pattern.STRAIGHT | Pattern.STAGGERED:
            return _rows(found.pattern, counts)
    if len(counts) == 2:
        return f"{counts[0]} around {counts[1]}"
    return "one in the middle" if found.pieces == 1 else f"a ring of {found.pieces}"


def _rows(pattern: Pattern, counts: tuple[int, ...]) -> str:
    if counts == (1,):
        return "one in the middle"
    if set(counts) == {1} and pattern is Pattern.STAGGERED:
        return f"a zigzag of {len(counts)}"
    if len(counts) == 1 or set(counts) == {1}:
        return f"one row of {sum(counts)}"
    if len(set(counts)) == 1:
        return f"{len(counts)} {pattern} of {counts[0]}"
    return f"{pattern} of {', '.join(map(str, counts[:-1]))} and {counts[-1]}"


@register.filter
def pattern_note(found: Arrangement) -> str:
    """Where an arrangement comes from, in words under a drawing."""
    if found.pattern is Pattern.RINGS:
        return "even rings"
    if found.pattern in (Pattern.STRAIGHT, Pattern.STAGGERED):
        return "our own computation"
    if found.is_best_known:
        return "the best known places"
    return "a good arrangement; a better one may exist"


@register.filter
def how_many(most: MostThatFit) -> str:
    """How many pieces fit: `3 of them fit`, `at least 24 of them fit`, `not even one fits`."""
    if not most.pieces:
        return "not even one fits"
    words = "1 of them fits" if most.pieces == 1 else f"{most.pieces} of them fit"
    return f"at least {words}" if most.at_least else words


@register.filter
def verdict(meeting: Meeting) -> str:
    """Whether neighbors meet, as sign and word: `● touch`."""
    if meeting.gap_mm is None:
        return "○ a single piece"
    return f"{SIGNS[meeting.touch]} {meeting.touch}"


@register.filter
def gap(meeting: Meeting) -> str:
    """The gaps between neighbors: `4 to 7 mm apart`, `pressing 3 mm`."""
    if meeting.gap_mm is None or meeting.closest_gap_mm is None:
        return "no neighbors"
    least, most = (_short(ONE, value) for value in (meeting.closest_gap_mm, meeting.gap_mm))
    if meeting.closest_gap_mm > 0:
        return f"{_range(least, most)}{NBSP}mm apart"
    if meeting.gap_mm > 0:
        return f"some touch, others up to {most}{NBSP}mm apart"
    pressed = (_short(ONE, -value) for value in (meeting.gap_mm, meeting.closest_gap_mm))
    return f"pressing {_range(*pressed)}{NBSP}mm into each other"


@register.filter
def wall(meeting: Meeting) -> str:
    """How near the wall is: `3 mm from the wall` or `at the wall`."""
    apart = _short(ONE, max(meeting.wall_gap_mm, Decimal(0)))
    return "at the wall" if apart == "0" else f"{apart}{NBSP}mm from the wall"


def _range(least: str, most: str) -> str:
    return least if least == most else f"{least} to {most}"

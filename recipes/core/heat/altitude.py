"""Baking high up: where water boils, how that limits core temperatures, and cautious advice.

Pressure: International Standard Atmosphere, troposphere. Boiling point: IAPWS Industrial
Formulation 1997, region 4, saturation temperature. Advice is a set of published ranges that
disagree; it is never turned into a scaled formula.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from recipes.core.errors import OutOfRange
from recipes.core.heat.doneness import CoreRange, celsius
from recipes.core.numbers import ONE, exact, not_negative

FOOT_M = Decimal("0.3048")
LOWEST_M = Decimal(-500)
HIGHEST_M = Decimal(5500)

_SEA_LEVEL_KPA = Decimal("101.325")
_SEA_LEVEL_K = Decimal("288.15")
_LAPSE_K_PER_M = Decimal("0.0065")
# Gravity divided by the gas constant of air and the lapse rate.
_EXPONENT = Decimal("9.80665") / (Decimal("287.05287") * _LAPSE_K_PER_M)

_N = tuple(
    Decimal(number)
    for number in (
        "0.11670521452767e4",
        "-0.72421316703206e6",
        "-0.17073846940092e2",
        "0.12020824702470e5",
        "-0.32325550322333e7",
        "0.14915108613530e2",
        "-0.48232657361591e4",
        "0.40511340542057e6",
        "-0.23855557567849",
        "0.65017534844798e3",
    )
)
_KELVIN = Decimal("273.15")


def _height(altitude_m: Decimal) -> Decimal:
    height = exact("altitude_m", altitude_m)
    if not LOWEST_M <= height <= HIGHEST_M:
        raise OutOfRange("altitude_m", height, least=LOWEST_M, most=HIGHEST_M)
    return height


def meters(feet: Decimal) -> Decimal:
    """Meters in feet."""
    return exact("feet", feet) * FOOT_M


def pressure_kpa(altitude_m: Decimal) -> Decimal:
    """Air pressure of the standard atmosphere; weather changes it by 3 %. Raises OutOfRange."""
    return _SEA_LEVEL_KPA * (ONE - _LAPSE_K_PER_M * _height(altitude_m) / _SEA_LEVEL_K) ** _EXPONENT


def boiling_point_at_kpa(pressure: Decimal) -> Decimal:
    """°C at which water boils under a pressure of 1 to 1000 kPa. Raises OutOfRange."""
    kpa = exact("pressure", pressure)
    if not ONE <= kpa <= 1000:
        raise OutOfRange("pressure", kpa, least=ONE, most=Decimal(1000))
    root = (kpa / 1000).sqrt().sqrt()
    square = root * root
    e = square + _N[2] * root + _N[5]
    f = _N[0] * square + _N[3] * root + _N[6]
    g = _N[1] * square + _N[4] * root + _N[7]
    d = 2 * g / (-f - (f * f - 4 * e * g).sqrt())
    total = _N[9] + d
    return (total - (total * total - 4 * (_N[8] + _N[9] * d)).sqrt()) / 2 - _KELVIN


def boiling_point_c(altitude_m: Decimal) -> Decimal:
    """°C at which water boils at an altitude in the standard atmosphere. Raises OutOfRange."""
    return boiling_point_at_kpa(pressure_kpa(altitude_m))


# Moist crumb comes close to the boiling point without reaching it; how close is assumed.
CORE_MARGIN_C = ONE


@dataclass(frozen=True, slots=True)
class CoreTarget:
    """The core range in °C that can be reached at an altitude.

    `capped` says that the range was cut, `reachable` whether any of it is left.
    """

    least_c: Decimal
    most_c: Decimal
    boiling_c: Decimal
    capped: bool
    reachable: bool


def core_target(
    core: CoreRange, altitude_m: Decimal, *, margin_c: Decimal = CORE_MARGIN_C
) -> CoreTarget:
    """The core range capped just below the local boiling point, also one without an upper end."""
    boiling_c = boiling_point_c(altitude_m)
    cap = boiling_c - not_negative("margin_c", margin_c)
    least = celsius(core.least_f)
    most = cap if core.most_f is None else celsius(core.most_f)
    return CoreTarget(
        least_c=min(least, cap),
        most_c=min(most, cap),
        boiling_c=boiling_c,
        capped=cap < max(least, most),
        reachable=least <= cap,
    )


@dataclass(frozen=True, slots=True)
class Advice:
    """One published change for high altitudes: from least to most, in percent."""

    what: str
    least_percent: Decimal
    most_percent: Decimal
    source: str


ONSET_M = (Decimal(3000) * FOOT_M, Decimal(3500) * FOOT_M)

CAUTION = (
    "Published figures for heights disagree, and no fixed rule covers flour and liquid. "
    "Change one thing at a time, go by volume and not by the clock, and write down what worked."
)

_ADVICE = (
    Advice(
        "yeast",
        Decimal(-33),
        Decimal(-25),
        "a university extension's answer for 6000 ft (a quarter less); a magazine (a third less)",
    ),
    Advice("speed of the rise", Decimal(25), Decimal(50), "a magazine, above 3000 ft"),
)


@dataclass(frozen=True, slots=True)
class AltitudeAdvice:
    """Published changes for this altitude, as ranges with a caution; empty near sea level.

    `onset_unclear` says that sources disagree whether this altitude matters.
    """

    boiling_c: Decimal
    changes: tuple[Advice, ...]
    onset_unclear: bool
    caution: str


def altitude_advice(altitude_m: Decimal) -> AltitudeAdvice:
    """Advice for an altitude in meters; none below 3000 ft. Raises OutOfRange."""
    boiling_c = boiling_point_c(altitude_m)
    first, last = ONSET_M
    if altitude_m < first:
        return AltitudeAdvice(boiling_c, (), onset_unclear=False, caution="")
    return AltitudeAdvice(boiling_c, _ADVICE, onset_unclear=altitude_m < last, caution=CAUTION)

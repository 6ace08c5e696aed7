"""What a clause's temperatures belong to: the step, the oven, the core or the dough."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from itertools import pairwise

from recipes.core.choices import RISING_KINDS, StepKind, TemperatureOf
from recipes.importing.doubts import Doubt
from recipes.importing.method import unsure
from recipes.importing.method.clauses import Clause
from recipes.importing.method.drafts import Degrees
from recipes.importing.method.heats import (
    COLDEST_C,
    HOTTEST_C,
    LEAST_OVEN_C,
    REFRIGERATOR_C,
    Heat,
    is_of_core,
)
from recipes.importing.method.manner import is_cold, is_of_dough, temperature_of
from recipes.importing.method.verbs import WAITING_KINDS
from recipes.importing.text.tokens import Token, text_of
from recipes.importing.text.words import word_set

_WARMEST_DOUGH_C = Decimal(40)
_LIQUIDS = word_set("water milk")
_WARMING = word_set("keep warm heat bring")
_SHORT_NAMES = word_set("ddt fdt tdt dt")
_CAN_BE_COLD = RISING_KINDS | {StepKind.PREPARE}


@dataclass
class Warmth:
    """The temperatures of a clause in °C: its step's `heats`, and those that go elsewhere.

    `oven` is the oven's setting for the next bake, with its doubts.
    """

    heats: list[Degrees] = field(default_factory=list)
    doubts: list[Doubt] = field(default_factory=list)
    oven: tuple[Decimal, tuple[Doubt, ...]] | None = None
    core_c: Decimal | None = None
    dough_c: Decimal | None = None

    def aside(self, heat: Heat, clause: Clause, held: Decimal | None) -> None:
        """Doubt a temperature that differs from the one already read for its field."""
        if held is not None and held != heat.celsius:
            text = text_of(clause.tokens[max(0, heat.start - 2) : heat.end])
            self.doubts.append(unsure.TemperatureAside(text, heat.celsius))


def warmth_in(clause: Clause, kind: StepKind | None) -> Warmth:
    """What the temperatures of a clause belong to."""
    found = Warmth()
    for heat in clause.heats:
        _take(found, clause, heat, kind)
    if not found.heats and kind in _CAN_BE_COLD and is_cold(clause.tokens):
        found.doubts.append(unsure.ColdAssumed(REFRIGERATOR_C))
        found.heats.append((REFRIGERATOR_C, TemperatureOf.REFRIGERATOR))
    return found


def _take(found: Warmth, clause: Clause, heat: Heat, kind: StepKind | None) -> None:
    if not COLDEST_C <= heat.celsius <= HOTTEST_C:
        found.doubts.append(unsure.TemperatureOutOfRange(heat.celsius))
    elif is_of_core(clause.tokens, heat):
        found.aside(heat, clause, found.core_c)
        found.core_c = found.core_c or heat.celsius
        found.doubts += heat.doubts
    elif _is_of_mixed_dough(clause.tokens, heat, kind):
        found.aside(heat, clause, found.dough_c)
        found.dough_c = found.dough_c or heat.celsius
        found.doubts += heat.doubts
    elif _is_ovens(clause, heat, kind):
        if found.oven:
            found.doubts.append(unsure.MoreTemperatures((found.oven[0],)))
        found.oven = heat.celsius, heat.doubts
    elif _is_of_liquid(clause.tokens, heat):
        found.aside(heat, clause, heat.celsius + 1)
    else:
        found.doubts += heat.doubts
        found.heats.append((heat.celsius, temperature_of(clause.tokens, heat, kind)))


def _is_ovens(clause: Clause, heat: Heat, kind: StepKind | None) -> bool:
    """Whether a temperature is the oven's setting for the next bake."""
    if kind is StepKind.BAKE or heat.celsius < LEAST_OVEN_C:
        return False
    of = temperature_of(clause.tokens, heat, kind)
    return kind is None or kind in WAITING_KINDS or of is TemperatureOf.OVEN


def _is_of_liquid(tokens: Sequence[Token], heat: Heat) -> bool:
    """`mix with water at 34 °C`: the step is not so warm; `keep the water at 34 °C` is."""
    before = [token.low for token in tokens[max(0, heat.start - 2) : heat.start]]
    liquid = before[-1:] in (["at"], ["of"], ["("]) and before[0] in _LIQUIDS
    return liquid and not _WARMING & {token.low for token in tokens}


def _is_of_mixed_dough(tokens: Sequence[Token], heat: Heat, kind: StepKind | None) -> bool:
    """`dough temperature 25 °C`, `the temperature of the dough`, `DDT 25`, `for a dough of 27`."""
    if heat.celsius > _WARMEST_DOUGH_C:
        return False
    near = [token.low for token in tokens[max(0, heat.start - 8) : heat.end + 6]]
    pairs = set(pairwise(near))
    named = {("dough", "temperature"), ("dough", "temp")} & pairs
    of_it = {"temperature", "of"} <= set(near) and {("the", "dough"), ("of", "dough")} & pairs
    own = kind not in RISING_KINDS and is_of_dough(tokens, heat)
    off_it = "mixer" in near or {"dough", "off"} <= set(near)
    told = kind not in RISING_KINDS and off_it
    return bool(named or of_it or own or told or _SHORT_NAMES & set(near))

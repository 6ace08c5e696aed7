"""How a step is worked, and what its temperature belongs to, by the words of its sentences.

If the words do not say, nothing is assumed. All of it is common practice, from memory.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from recipes.core.choices import RISING_KINDS, WORKED_KINDS, StepKind, TemperatureOf, Worked
from recipes.importing.method.heats import Heat
from recipes.importing.text.tokens import Token
from recipes.importing.text.words import word_set

NAMED_WAYS = frozenset(Worked)

_MACHINE = word_set("mixer mixers machine machines attachment")
_ON_HEAT = word_set("saucepan saucepans skillet stove stovetop hob burner")
_PANS = word_set("pan pot")
_COOKING = word_set("cook cooking heat simmer scald boil toast melt brown")
_FLAMES = word_set("low medium gentle high")
_WITH_HANDS = word_set("hands spoon spatula fork fingers")
_LIGHT = word_set("whisk stir sift rub crumble")
_HEAVY = word_set("knead mix beat work blend combine cream")
_REFRIGERATORS = word_set("refrigerator refrigerate refrigerated fridge retarder retard")
_ROOMS = word_set("room kitchen cabinet proofer box bench counter ambient")
_SPOTS = word_set("place spot")
_SPOTS_ARE = word_set("warm cool cooler warmer dark sheltered free")
_OVENS = word_set("oven ovens preheat")
_CHILLING = word_set("chill refrigerate retard")
_COLD_RISES = word_set("proof prove proofing proving retard rise fermentation bulk ferment")
_FLATTENING = word_set("roll press flatten stretch pat")
_FLAT = word_set("cm mm inch inches thin thinly thick rectangle oblong flat sheet out")
_OWN_SHAPE = word_set("cut up into divide shape form each every piece pieces ball balls")
_OUT = {"from", "of"}
_WARMED = word_set("at of is reaches about around near , - : (")


def ways_said(tokens: Sequence[Token]) -> frozenset[str]:
    """What the words of a sentence say, `hand`, `machine` and `pan`, and `light` or `heavy` work.

    Light work is by hand unless something else is said; kneading and mixing may be either.
    """
    words = [token.low for token in tokens]
    held = frozenset(words)
    found = set()
    if held & _MACHINE or {"dough", "hook"} <= held:
        found.add("machine")
    if _by_hand(words) or held & _WITH_HANDS:
        found.add("hand")
    if _on_heat(words, held):
        found.add("pan")
    if held & _LIGHT:
        found.add("light")
    if held & _HEAVY:
        found.add("heavy")
    return frozenset(found)


def _by_hand(words: Sequence[str]) -> bool:
    return any(word == "hand" and words[i - 1] in ("by", "or") for i, word in enumerate(words) if i)


def _on_heat(words: Sequence[str], held: frozenset[str]) -> bool:
    over = any(
        word == "heat" and words[i - 1] in _FLAMES and "over" in words[:i]
        for i, word in enumerate(words)
        if i
    )
    return over or bool(held & _ON_HEAT) or bool(held & _PANS and held & _COOKING)


def worked_as(kind: StepKind, said: frozenset[str]) -> Worked | None:
    """How a step of a kind is worked by what all its sentences said; None if none says."""
    if kind not in WORKED_KINDS:
        return None
    named = said & NAMED_WAYS
    if len(named) == 1:
        return Worked(next(iter(named)))
    return Worked.HAND if not named and "light" in said and "heavy" not in said else None


def temperature_of(
    tokens: Sequence[Token], heat: Heat, kind: StepKind | None
) -> TemperatureOf | None:
    """What a temperature belongs to; None if unsaid."""
    listed = [token.low for token in tokens]
    words = set(listed)
    if kind is StepKind.BAKE or (words & _OVENS and kind not in RISING_KINDS):
        return TemperatureOf.OVEN
    if words & _REFRIGERATORS:
        return TemperatureOf.REFRIGERATOR
    if is_of_dough(tokens, heat):
        return TemperatureOf.DOUGH
    spot = any(word in _SPOTS_ARE and other in _SPOTS for word, other in pairwise(listed))
    return TemperatureOf.ROOM if spot or words & _ROOMS else None


def is_sheeted(tokens: Sequence[Token]) -> bool:
    """Whether dough is only rolled out flat: `roll the dough to 30 by 50 cm`."""
    words = {token.low for token in tokens}
    return bool(words & _FLATTENING and words & _FLAT) and not words & _OWN_SHAPE


def is_of_dough(tokens: Sequence[Token], heat: Heat) -> bool:
    """`keep the dough at 25 °C`, `with a dough of 25 °C`; not `let the dough rise at 25 °C`."""
    at = heat.start - 1
    while at >= 0 and tokens[at].low in _WARMED:
        at -= 1
    behind = [token.low for token in tokens[heat.end : heat.end + 1]]
    return (at >= 0 and tokens[at].low == "dough") or behind == ["dough"]


def is_cold(tokens: Sequence[Token]) -> bool:
    """Whether dough is put into a refrigerator, rather than taken out of it."""
    words = [token.low for token in tokens]
    if any(word == "cold" and other in _COLD_RISES for word, other in pairwise(words)):
        return True
    return "room" not in words and any(
        word in _CHILLING or (word in _REFRIGERATORS and not _OUT & set(words[max(0, i - 2) : i]))
        for i, word in enumerate(words)
    )

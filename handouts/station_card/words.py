"""The lines of a station card about water, allergens and conflicts."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from classes.core.demand import Taught
from classes.dough.in_class import Ask, DoughWater, Water
from classes.plan import KitchenFacts
from handouts.safety.values import CardHeed
from recipes.core.allergens import Allergen, AllergensFound, found_in
from recipes.core.heat.dough_liquid import Means
from wording.lists import either, listed
from wording.masses import grams


@dataclass(frozen=True, slots=True)
class WaterLine:
    """Such as `Water 24 °C: 578 g`, and below it how that came about, or what is missing."""

    use: str
    amount: str
    more: str

    @property
    def words(self) -> str:
        return f"{self.use}: {self.amount}" if self.amount else self.use


def water_line(water: Water, kitchen: KitchenFacts, *, alike: bool) -> WaterLine:
    """The line for a student's dough; without grams where people weigh different doughs."""
    name = water.liquid[:1].upper() + water.liquid[1:]
    if isinstance(water, Ask):
        return WaterLine(name, "ask", f"? {water.why}")
    use = f"{name} {kitchen.writing.one_scale(water.use_c)}"
    amount = f"{grams(water.tap_g)} g"
    if water.is_iced:
        amount += f" and {grams(water.ice_g)} g ice"
    return WaterLine(use, amount if alike else "", _how(water, kitchen))


def _how(water: DoughWater, kitchen: KitchenFacts) -> str:
    """What the figure is for; on another morning it is another one."""
    at = kitchen.writing.one_scale
    other = replace(kitchen.writing, fahrenheit_first=not kitchen.writing.fahrenheit_first)
    comes = ", as it comes" if water.means is Means.AS_IT_IS else ""
    given = f"room {at(water.at.room_c)}, flour {at(water.at.flour_c)}"
    use = f"({other.one_scale(water.use_c)}{comes})"
    return f"{use} for a dough of {at(water.dough_c)}, {given}. Else: the water table."


# What it holds


def holds_words(taught: Taught, *, eu_list_first: bool) -> str:
    """What is known of the allergens in a recipe and its dusting, the kitchen's list first."""
    dusting = [taught.dusting_flour] if taught.dusting_g and taught.dusting_flour else []
    lines = (line.ingredient for part in taught.formula.components for line in part.lines)
    found = found_in([*lines, *dusting])
    held = listed(list(_held(found, eu_list_first=eu_list_first)))
    said = [f"Holds {held}." if held else "No allergen is entered, which promises nothing."]
    if found.may_contain:
        said.append(f"The pack of {either([name for name, _ in found.may_contain])} names traces.")
    if found.unknown:
        said.append(f"? Cannot say for {listed(found.unknown)}: nothing is entered.")
    return " ".join([*said, "Ask, and read the packs."])


def _held(found: AllergensFound, *, eu_list_first: bool) -> Iterator[str]:
    """Each allergen once, with its list where the other names it otherwise or not at all."""
    lists = [(found.us, "US list"), (found.eu, "EU list")]
    if eu_list_first:
        lists.reverse()
    said: set[str] = set()
    both = {_alike(one) for one in found.us} & {_alike(one) for one in found.eu}
    for allergens, name in lists:
        for one in allergens:
            if _alike(one) in both:
                if _alike(one) not in said:
                    yield one.label
            else:
                yield f"{one.label} ({name})"
            said.add(_alike(one))


def _alike(allergen: Allergen) -> str:
    return allergen.label.removesuffix("s")


# Conflicts


def heed_lines(heed: CardHeed, station: str, avoids: tuple[str, ...]) -> tuple[str, ...]:
    """The white words of a black box: what the recipe holds, and that this station avoids it."""
    named = [
        one for one in avoids if any(f"hold {one}" in w or f"holds {one}" in w for w in heed.words)
    ]
    tail = f" {station} avoids it." if named else ""
    *first, last = heed.words
    return (*first, f"{last}{tail}")

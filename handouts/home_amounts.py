"""A recipe's amounts for a kitchen at home: grams, spoons beside them, its yeast and its salt.

Yeast is exchanged by the core's textbook factors. Published sets disagree, so the note beside it
says how far they lie apart; no single figure for dry or fresh yeast is the right one.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal

from classes.at_home import HomeKitchen
from recipes.baking.exchange import (
    YEAST_FORMS,
    YeastForm,
    exchange_salt,
    exchange_yeast,
    exchange_yeast_by_all,
)
from recipes.baking.exchange_sheet import yeast_form
from recipes.baking.formula import ComponentKind, Formula
from recipes.baking.numbers import ONE
from recipes.baking.scaling import AmountLine, ComponentAmounts, Sheet, batch
from recipes.baking.spoons import (
    SPOONED_FLOUR_CUP_G,
    SPOONED_FLOURS,
    Scoop,
    Scoops,
    cup_density,
    quarter_teaspoons,
    scoops_of,
    teaspoon_density,
)
from recipes.baking.weighing import ONE_GRAM, Count, Weighing, split
from recipes.models import Ingredient, IngredientKind
from recipes.variants import BENCH_AND_POCKET

HELD_BACK = Decimal("0.1")  # Common practice: a tenth of the water.
YEAST_KEYS = {form: key for key, form in YEAST_FORMS.items()}


@dataclass(frozen=True, slots=True)
class YeastNote:
    """A yeast taken for another: what the recipe has, the water with it, and other factors."""

    form: YeastForm
    given: str
    given_g: Decimal
    water_g: Decimal
    least_g: Decimal
    most_g: Decimal

    @property
    def water_out(self) -> Weighing | None:
        """Water to leave out of the dough, where there is any worth weighing."""
        return BENCH_AND_POCKET.weigh(-self.water_g) if self.water_g < 0 else None

    @property
    def water_in(self) -> Weighing | None:
        """Water to add to the dough, where there is any."""
        return BENCH_AND_POCKET.weigh(self.water_g) if self.water_g > 0 else None


@dataclass(frozen=True, slots=True)
class HomeLine:
    """One ingredient: exact grams, what the scale shows, and by the spoon where that is known.

    `between` are the least and the most teaspoons of a salt that spoons say too little about;
    `instead_of` is the recipe's own salt, where it is another than the one at hand.
    """

    name: str
    exact_g: Decimal
    weighed: Weighing
    note: str = ""
    count: Count | None = None
    scoops: Scoops | None = None
    between: tuple[Scoop, Scoop] | None = None
    yeast: YeastNote | None = None
    weigh_it: bool = False
    instead_of: str = ""


@dataclass(frozen=True, slots=True)
class HomePart:
    """A part of the bread; one that is cooked is made up again with water to `exact_g`."""

    name: str
    lines: tuple[HomeLine, ...]
    amounts: ComponentAmounts


@dataclass(frozen=True, slots=True)
class HeldBack:
    """How much of a liquid of the dough goes in first, and how much is held back, in grams."""

    name: str
    first_g: Decimal
    held_g: Decimal


@dataclass(frozen=True, slots=True)
class HomeAmounts:
    """All amounts of a recipe for so many grams of dough."""

    sheet: Sheet
    parts: tuple[HomePart, ...]
    held_back: tuple[HeldBack, ...]

    @property
    def dough_g(self) -> Decimal:
        """The dough, exact."""
        return self.sheet.dough_g

    @property
    def lines(self) -> tuple[HomeLine, ...]:
        """The lines of all parts."""
        return tuple(line for part in self.parts for line in part.lines)

    @property
    def has_parts(self) -> bool:
        """Whether the parts need their names."""
        return len(self.parts) > 1

    @property
    def has_far_off(self) -> bool:
        """Whether some spoons are more than 5 % off."""
        return any(line.scoops and line.scoops.is_far_off for line in self.lines)


def home_amounts(
    formula: Formula, notes: Mapping[tuple[str, str], str], dough_g: Decimal, home: Home
) -> HomeAmounts:
    """A formula for `dough_g` grams; `notes` are by part and ingredient key."""
    sheet = batch(formula, dough_g, BENCH_AND_POCKET)
    parts = tuple(
        HomePart(
            part.name,
            tuple(
                home.line(
                    line,
                    notes.get((part.name, line.ingredient.key), ""),
                    into_dough=part.kind.goes_into_dough,
                )
                for line in part.lines
            ),
            part,
        )
        for part in sheet.components
    )
    return HomeAmounts(sheet, parts, tuple(_held_back(sheet.components)))


def _held_back(parts: tuple[ComponentAmounts, ...]) -> list[HeldBack]:
    """What goes in first and what is held back keep their sum."""
    found = []
    for part in parts:
        for line in part.lines if part.kind is ComponentKind.DOUGH else ():
            if line.ingredient.is_added_liquid:
                shares = (ONE - HELD_BACK, HELD_BACK)
                first_g, held_g = split(line.exact_g, shares, step_g=ONE_GRAM)
                found.append(HeldBack(line.ingredient.name, first_g, held_g))
    return found


@dataclass(frozen=True, slots=True)
class Home:
    """A kitchen, and the ingredients that its recipes and its yeast name, by key."""

    kitchen: HomeKitchen
    rows: Mapping[str, Ingredient]

    def line(self, line: AmountLine, note: str, *, into_dough: bool) -> HomeLine:
        """A line of the recipe as it is weighed at home; salt to strew on top stays what it is."""
        row = self.rows.get(line.ingredient.key)
        kind = row.kind if row and into_dough else ""
        if kind == IngredientKind.SALT:
            return self._salt(line, note)
        if kind == IngredientKind.YEAST:
            return self._yeast(line, note)
        return HomeLine(
            line.ingredient.name,
            line.exact_g,
            line.weighed,
            note,
            line.count,
            self._scoops(line.ingredient.key, line.exact_g),
        )

    def _scoops(self, key: str, mass_g: Decimal) -> Scoops | None:
        density = self._density(key)
        return scoops_of(mass_g, density) if density and self.kitchen.has_cups else None

    def _density(self, key: str) -> Decimal | None:
        if self.kitchen.spoons_flour and key in SPOONED_FLOURS:
            return cup_density(SPOONED_FLOUR_CUP_G)
        row = self.rows.get(key)
        return row.density_g_per_ml if row else None

    def _salt(self, line: AmountLine, note: str) -> HomeLine:
        """The same grams of the salt at hand; by the spoon only where its kind has a density."""
        kind, mass_g = self.kitchen.salt_kind, line.exact_g
        scoops = between = None
        if self.kitchen.has_cups and kind.tsp_g:
            scoops = scoops_of(mass_g, teaspoon_density(kind.tsp_g))
        elif self.kitchen.has_cups:
            spoons = exchange_salt(mass_g, kind)
            between = quarter_teaspoons(spoons.least), quarter_teaspoons(spoons.most)
        given = line.ingredient
        return HomeLine(
            kind.name.capitalize(),
            mass_g,
            line.weighed,
            note,
            scoops=scoops,
            between=between,
            weigh_it=kind.weigh_it,
            instead_of="" if given.key == kind.key else given.name.lower(),
        )

    def _yeast(self, line: AmountLine, note: str) -> HomeLine:
        """The yeast at hand that does the work of the recipe's; sourdough and the like stay."""
        given = yeast_form(line.ingredient.key, line.ingredient.name)
        wanted = self.kitchen.yeast_form
        if given is None or given is wanted:
            scoops = self._scoops(line.ingredient.key, line.exact_g)
            return HomeLine(
                line.ingredient.name, line.exact_g, line.weighed, note, line.count, scoops
            )
        made = exchange_yeast(line.exact_g, given, wanted)
        published = exchange_yeast_by_all(line.exact_g, given, wanted)
        key = YEAST_KEYS[wanted]
        return HomeLine(
            self._yeast_name(wanted),
            made.mass_g,
            BENCH_AND_POCKET.weigh(made.mass_g),
            note,
            scoops=self._scoops(key, made.mass_g),
            yeast=YeastNote(
                wanted,
                line.ingredient.name.lower(),
                line.exact_g,
                made.water_g,
                published[0].mass_g,
                published[-1].mass_g,
            ),
        )

    def _yeast_name(self, form: YeastForm) -> str:
        row = self.rows.get(YEAST_KEYS[form])
        return row.name if row else f"{form.capitalize()} yeast"


def rows_of(formulas: list[Formula]) -> dict[str, Ingredient]:
    """The ingredients of formulas and the yeasts that may take a yeast's place, by key."""
    keys = set(YEAST_FORMS)
    for formula in formulas:
        keys |= {line.ingredient.key for part in formula.components for line in part.lines}
    return {row.key: row for row in Ingredient.objects.filter(key__in=keys)}

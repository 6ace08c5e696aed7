"""A recipe's amounts for a kitchen at home: grams, spoons beside them, its yeast and its salt.

Yeast is exchanged by the core's textbook factors. Published sets disagree, so the note beside it
says how far they differ; no single figure for dry or fresh yeast is the right one.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from decimal import Decimal

from classes.home_kitchen.values import HomeKitchen
from classes.plan import IngredientFacts
from recipes.core.batch.flour_cups import flour_density
from recipes.core.batch.spoons import (
    Scoop,
    Scoops,
    quarter_teaspoons,
    scoops_of,
    teaspoon_density,
)
from recipes.core.choices import ComponentKind, IngredientKind
from recipes.core.exchange.kinds import (
    YEAST_FORMS,
    YeastExchange,
    YeastForm,
    exchange_salt,
    exchange_yeast,
    exchange_yeast_by_all,
)
from recipes.core.exchange.sheet import yeast_form
from recipes.core.formula import Formula, Line
from recipes.core.formula import FormulaIngredient as BakingIngredient
from recipes.core.numbers import ONE, ZERO
from recipes.core.scaling import ComponentAmounts, Sheet, batch
from recipes.core.scaling.amount_lines import AmountLine, amount_line, dissolved
from recipes.core.weighing import ONE_GRAM, Count, Weighing, split
from recipes.variants.selectors import BENCH_AND_POCKET

HELD_BACK = Decimal("0.1")  # Common practice: a tenth of the water.
YEAST_KEYS = {form: key for key, form in YEAST_FORMS.items()}


@dataclass(frozen=True, slots=True)
class YeastNote:
    """One yeast instead of another: what the recipe has, the water with it, and other factors.

    `is_in_water`: the water line of its part already has `water_g` more, or less where negative.
    """

    form: YeastForm
    given: str
    given_g: Decimal
    water_g: Decimal
    least_g: Decimal
    most_g: Decimal
    is_in_water: bool = False

    @property
    def water_out(self) -> Weighing | None:
        """Water to leave out of the dough, if any is worth weighing."""
        return _worth_weighing(-self.water_g)

    @property
    def water_in(self) -> Weighing | None:
        """Water to add to the dough, if any is worth weighing."""
        return _worth_weighing(self.water_g)


def _worth_weighing(mass_g: Decimal) -> Weighing | None:
    weighed = BENCH_AND_POCKET.weigh(mass_g) if mass_g > 0 else None
    return None if weighed is None or weighed.too_small else weighed


@dataclass(frozen=True, slots=True)
class HomeLine:
    """One ingredient: exact grams, what the scale shows, and spoons if known.

    `between` are the least and the most teaspoons of a salt that spoons measure poorly;
    `instead_of` is the recipe's own salt if it differs from the one at hand. `how` is about amounts
    too little for the scale.
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
    how: str = ""


@dataclass(frozen=True, slots=True)
class HomePart:
    """A part of the bread; a cooked one is made up with water to `exact_g`."""

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
    """All amounts of a recipe for a mass of dough."""

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

    def piece_masses(self, pieces: int) -> tuple[Decimal, ...]:
        """The pieces in whole grams, as even as possible, that add up to the dough."""
        return split(self.dough_g, (ONE,) * pieces, step_g=ONE_GRAM)

    @property
    def has_far_off(self) -> bool:
        """Whether some spoons are more than 5 % off."""
        return any(line.scoops and line.scoops.is_far_off for line in self.lines)


def home_amounts(formula: Formula, dough_g: Decimal, home: Home) -> HomeAmounts:
    """A formula for `dough_g` grams."""
    sheet = batch(formula, dough_g, BENCH_AND_POCKET)
    parts: list[HomePart] = []
    held_back: list[HeldBack] = []
    for written, part in zip(formula.components, sheet.components, strict=True):
        made = home.made(part)
        rows = zip(written.lines, part.lines, made, strict=True)
        lines = (home.line(*row, part) for row in rows)
        parts.append(HomePart(part.name, tuple(lines), part))
        if part.kind is ComponentKind.DOUGH:
            held_back += _held_back(made)
    return HomeAmounts(sheet, tuple(parts), tuple(held_back))


def _held_back(lines: Iterable[AmountLine]) -> Iterator[HeldBack]:
    """What goes in first and what is held back keep their sum; a few grams are not held back."""
    for line in lines:
        if line.ingredient.is_added_liquid:
            shares, poured_g = (ONE - HELD_BACK, HELD_BACK), line.exact_g - line.in_stock_g
            first_g, held_g = split(poured_g, shares, step_g=ONE_GRAM)
            if held_g:
                yield HeldBack(line.ingredient.name, first_g, held_g)


@dataclass(frozen=True, slots=True)
class Home:
    """A kitchen, and the ingredients that its recipes and its yeast name, by key."""

    kitchen: HomeKitchen
    rows: Mapping[str, IngredientFacts]

    def made(self, part: ComponentAmounts) -> tuple[AmountLine, ...]:
        """The lines of a part with the yeast and salt at hand; salt for sprinkling on top stays."""
        lines = [self._with_own(line) if part.kind.goes_into_dough else line for line in part.lines]
        if part.kind.goes_into_dough and (water := self._water_line(part)) is not None:
            exact_g = lines[water].exact_g + self._yeast_water_g(part)
            lines[water] = replace(lines[water], exact_g=exact_g)
        weighed = [amount_line(line.ingredient, line.exact_g, BENCH_AND_POCKET) for line in lines]
        return dissolved(weighed, BENCH_AND_POCKET)

    def _yeast_water_g(self, part: ComponentAmounts) -> Decimal:
        """Water that comes in with the recipe's yeast and not with the one at hand."""
        return sum((found[2].water_g for found in map(self._exchanged, part.lines) if found), ZERO)

    def _water_line(self, part: ComponentAmounts) -> int | None:
        """The water of a part that has enough of it to make up for the yeast's."""
        for n, line in enumerate(part.lines):
            if line.ingredient.water_share == ONE and line.exact_g + self._yeast_water_g(part) > 0:
                return n
        return None

    def _with_own(self, line: AmountLine) -> AmountLine:
        if self._kind(line) == IngredientKind.SALT:
            salt = self.kitchen.salt_kind
            return replace(line, ingredient=_renamed(line, salt.key, salt.name.capitalize()))
        exchanged = self._exchanged(line)
        if exchanged is None:
            return line
        _, wanted, made = exchanged
        yeast = _renamed(line, YEAST_KEYS[wanted], self._yeast_name(wanted))
        return replace(line, ingredient=yeast, exact_g=made.mass_g)

    def _kind(self, line: AmountLine) -> str:
        row = self.rows.get(line.ingredient.key)
        return row.kind if row else ""

    def _exchanged(self, line: AmountLine) -> tuple[YeastForm, YeastForm, YeastExchange] | None:
        """The recipe's yeast, the one at hand, and the exchange; sourdough and the like stay."""
        given, wanted = _yeast_form(line), self.kitchen.yeast_form
        if self._kind(line) != IngredientKind.YEAST or given is None or given is wanted:
            return None
        return given, wanted, exchange_yeast(line.exact_g, given, wanted)

    def line(
        self, written: Line, given: AmountLine, made: AmountLine, part: ComponentAmounts
    ) -> HomeLine:
        """A line of a part as it is weighed at home, from what was `given` and is `made`."""
        into_dough = part.kind.goes_into_dough
        line = HomeLine(
            name=made.name,
            exact_g=made.exact_g,
            weighed=made.weighed,
            note=written.note,
            count=made.count,
            scoops=self.scoops(made.ingredient.key, made.exact_g),
            how=made.how,
        )
        if into_dough and self._kind(given) == IngredientKind.SALT:
            return self._as_salt(line, given)
        exchanged = self._exchanged(given) if into_dough else None
        if exchanged is None:
            return line
        note = _yeast_note(given, *exchanged)
        return replace(line, yeast=replace(note, is_in_water=self._water_line(part) is not None))

    def scoops(self, key: str, mass_g: Decimal) -> Scoops | None:
        """What to measure with cups and spoons, if they are wanted and a density is known."""
        density = self._density(key)
        region = self.kitchen.home_region
        return scoops_of(mass_g, density, region) if density and self.kitchen.has_cups else None

    def _density(self, key: str) -> Decimal | None:
        row = self.rows.get(key)
        density = row.density_g_per_ml if row else None
        if row is None or density is None or row.kind is not IngredientKind.FLOUR:
            return density
        flour = flour_density(key, density)
        return flour.spooned if self.kitchen.spoons_flour else flour.dipped

    def _as_salt(self, line: HomeLine, given: AmountLine) -> HomeLine:
        """The same grams of the salt at hand; spoons only if its kind has a density."""
        kind = self.kitchen.salt_kind
        scoops = between = None
        if self.kitchen.has_cups and kind.tsp_g:
            scoops = scoops_of(line.exact_g, teaspoon_density(kind.tsp_g), self.kitchen.home_region)
        elif self.kitchen.has_cups:
            spoons = exchange_salt(line.exact_g, kind)
            between = quarter_teaspoons(spoons.least), quarter_teaspoons(spoons.most)
        return replace(
            line,
            count=None,
            scoops=scoops,
            between=between,
            weigh_it=kind.weigh_it,
            instead_of="" if given.ingredient.key == kind.key else given.ingredient.name.lower(),
        )

    def _yeast_name(self, form: YeastForm) -> str:
        row = self.rows.get(YEAST_KEYS[form])
        return row.name if row else f"{form.capitalize()} yeast"


def _renamed(line: AmountLine, key: str, name: str) -> BakingIngredient:
    return replace(line.ingredient, key=key, name=name)


def _yeast_form(line: AmountLine) -> YeastForm | None:
    return yeast_form(line.ingredient.key, line.ingredient.name)


def _yeast_note(
    given: AmountLine, form: YeastForm, wanted: YeastForm, made: YeastExchange
) -> YeastNote:
    published = exchange_yeast_by_all(given.exact_g, form, wanted)
    return YeastNote(
        wanted,
        given.ingredient.name.lower(),
        given.exact_g,
        made.water_g,
        published[0].mass_g,
        published[-1].mass_g,
    )

"""The shopping and what is weighed, as one list by ingredient: what is bought, in all, and each."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import groupby

from classes.core.demand import TaughtAmounts, heads_in_words
from classes.core.shopping import ShoppingLine, ShoppingList
from handouts.preparing.placed import PlacedRecipe, PlacedRow, Portion
from recipes.core.choices import ComponentKind
from wording.masses import counted

# The head of the paper tells which revisions are meant.
_REVISION = re.compile(r", revision \d+(?=, variant |$)")
TAP, OTHERS, TUBS, DOUGHS = "From the tap", "Weighed, not bought", "From the tubs", "Doughs"


@dataclass(frozen=True, slots=True)
class Several:
    """A portion that several weigh: `at` counts them place by place.

    It is `named` if others weigh another amount of the same, and more of them do.
    """

    portion: Portion
    at: tuple[int, ...]
    named: bool

    @property
    def times(self) -> int:
        return sum(self.at)

    @property
    def boxes(self) -> tuple[range, ...]:
        """A box for each of them, by place."""
        return tuple(range(here) for here in self.at if here)


@dataclass(frozen=True, slots=True)
class Use:
    """An ingredient in a part of a recipe: in all, for each person, and for stations at once."""

    of: str
    in_all: Portion
    each: tuple[Several, ...] = ()
    together: tuple[Several, ...] = ()
    notes: tuple[str, ...] = ()
    concerns: tuple[str, ...] = ()

    @property
    def is_coarse(self) -> bool:
        several = (*self.each, *self.together)
        return self.in_all.is_coarse or any(one.portion.is_coarse for one in several)


@dataclass(frozen=True, slots=True)
class Item:
    """An ingredient, a tub or a dough: its line of the shopping, if it is bought, and its uses."""

    name: str
    uses: tuple[Use, ...]
    bought: ShoppingLine | None = None

    @property
    def only(self) -> Use | None:
        """Its only use, which needs no line of its own."""
        return self.uses[0] if len(self.uses) == 1 else None

    @property
    def goes_on(self) -> bool:
        """Whether it takes more than one line."""
        return self.only is None or bool(self.every_note)

    @property
    def notes(self) -> tuple[str, ...]:
        """What else to know of it as a whole: pieces to take, and what is left of them."""
        if self.bought is None or self.bought.notes or not self.bought.count:
            return self.bought.notes if self.bought else ()
        return (counted(self.bought.count),)

    @property
    def every_note(self) -> tuple[str, ...]:
        """The same with those of its only use."""
        return tuple(dict.fromkeys([*self.notes, *(self.only.notes if self.only else ())]))


@dataclass(frozen=True, slots=True)
class Group:
    """Items of one aisle, or of one sort."""

    name: str
    items: tuple[Item, ...]

    @property
    def is_weighed(self) -> bool:
        """Whether its items are weighed, and not only the sums of what is."""
        return self.name != DOUGHS


def listed(
    shopping: ShoppingList, recipes: Sequence[tuple[TaughtAmounts, PlacedRecipe]]
) -> tuple[Group, ...]:
    """All ingredients by aisle, then what comes from tubs, and the doughs."""
    short = Counter(_REVISION.sub("", there.label) for _, there in recipes)
    uses: dict[str, list[Use]] = {}
    names: dict[str, str] = {}
    for recipe, there in recipes:
        title = _REVISION.sub("", there.label)
        of = title if short[title] == 1 else there.label
        for key, name, use in _uses(recipe, there, of if len(recipes) > 1 else ""):
            names[key] = name
            uses.setdefault(key, []).append(use)
    groups = [
        Group(name, tuple(_bought(line, uses) for line in lines))
        for name, lines in groupby(shopping.lines, key=_aisle)
    ]
    rest = [Item(names[key], tuple(found)) for key, found in uses.items()]
    return tuple(
        group
        for group in (
            *groups,
            Group(OTHERS, tuple(rest)),
            Group(TUBS, tuple(_tubs(recipes))),
            Group(DOUGHS, tuple(_doughs(recipes))),
        )
        if group.items
    )


def _aisle(line: ShoppingLine) -> str:
    return TAP if line.supply.tap else line.supply.aisle


def _bought(line: ShoppingLine, uses: dict[str, list[Use]]) -> Item:
    """A line of the shopping with its uses, which are taken off."""
    found = uses.pop(line.ingredient.key, [])
    return Item(line.ingredient.name, tuple(found), line)


def _uses(recipe: TaughtAmounts, there: PlacedRecipe, title: str) -> Iterator[tuple[str, str, Use]]:
    """Every line of a recipe: the key of its ingredient, its name, and its use."""
    parts = recipe.amounts.pooled.components
    is_one = [part.kind for part in parts].count(ComponentKind.DOUGH) == 1
    for n, part in enumerate(parts):
        name = "" if is_one and part.kind is ComponentKind.DOUGH else part.name
        of = ": ".join(filter(None, (title, name)))
        for m, line in enumerate(part.lines):
            in_all = Portion((), line.weighed, line.exact_g, line.name, line.how)
            count = [counted(line.count)] if line.count else []
            use = _use(of, in_all, there.row(n, m), count)
            yield line.ingredient.key, line.ingredient.name, use


def _tubs(recipes: Iterable[tuple[TaughtAmounts, PlacedRecipe]]) -> Iterator[Item]:
    for recipe, there in recipes:
        for tub, division in zip(there.tubs, recipe.amounts.divisions, strict=True):
            in_all = Portion((), division.weighed_g, division.exact_g)
            yield Item(division.component, (_use(there.label, in_all, tub),))


def _doughs(recipes: Iterable[tuple[TaughtAmounts, PlacedRecipe]]) -> Iterator[Item]:
    for recipe, there in recipes:
        pooled = recipe.amounts.pooled
        in_all = Portion((), pooled.weighed_dough_g, pooled.dough_g)
        yield Item(there.label, (_use(heads_in_words(recipe), in_all, there.total),))


def _use(of: str, in_all: Portion, row: PlacedRow | None, notes: Sequence[str] = ()) -> Use:
    cells = row.cells if row else ()
    hows = row.hows if row else ()
    return Use(
        of=of,
        in_all=in_all,
        each=_several([cell.portions for cell in cells]),
        together=_several([(cell.together,) if cell.together else () for cell in cells]),
        notes=tuple(dict.fromkeys(note for note in (in_all.how, *hows, *notes) if note)),
        concerns=row.concerns if row else (),
    )


def _several(places: Sequence[Sequence[Portion]]) -> tuple[Several, ...]:
    """The portions of all places, the same ones counted, the most frequent first."""
    found: dict[object, list[tuple[int, Portion]]] = {}
    for n, portions in enumerate(places):
        for one in portions:
            found.setdefault((one.weighed, one.exact_g, one.how), []).append((n, one))
    alike = [_counted_at(several, len(places)) for several in found.values()]
    alike.sort(key=lambda one: -one.times)
    return tuple(replace(one, named=n > 0) for n, one in enumerate(alike))


def _counted_at(several: Sequence[tuple[int, Portion]], places: int) -> Several:
    names = tuple(name for _, one in several for name in one.whose)
    at = [
        sum(max(1, len(one.whose)) for n, one in several if n == place) for place in range(places)
    ]
    return Several(replace(several[0][1], whose=names), tuple(at), named=False)

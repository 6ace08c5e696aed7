"""Each yeast, salt, egg and flour of a batch in its other forms, kinds and sizes.

Takes a formula card and facts about its ingredients; `kinds` does the arithmetic.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from decimal import Decimal

from recipes.core.batch.card import FormulaCard
from recipes.core.exchange.kinds import (
    EGG_SIZES,
    SALT_KINDS,
    TEXTBOOK,
    YEAST_FORMS,
    EggSize,
    FlourProtein,
    SaltKind,
    YeastExchange,
    YeastFactors,
    YeastForm,
    exchange_salt,
    exchange_yeast,
    exchange_yeast_by_all,
    protein_note,
    salt_teaspoons,
)
from recipes.core.formula import Formula
from recipes.core.scaling.amount_lines import AmountLine
from recipes.core.weighing import Count, Scales, Weighing, count

YEAST, SALT, EGG, FLOUR = "yeast", "salt", "egg", "flour"
_PARTS_OF_EGGS = ("white", "yolk")


@dataclass(frozen=True, slots=True)
class Staples:
    """Facts about a recipe's ingredients by key: their kind, and the flours' protein."""

    kinds: Mapping[str, str]
    flours: Mapping[str, FlourProtein] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Asked:
    """The chosen factors, the form of yeasts whose name gives none, and the flour at hand."""

    factors: YeastFactors = TEXTBOOK
    unknown_form: YeastForm | None = None
    flour: FlourProtein | None = None


@dataclass(frozen=True, slots=True)
class UsedIn:
    """An ingredient's line: the part it is in, and its mass in the batch."""

    part: str
    amount: AmountLine

    @property
    def name(self) -> str:
        """The ingredient's name."""
        return self.amount.ingredient.name


@dataclass(frozen=True, slots=True)
class YeastAnswer:
    """A yeast in another form: by the chosen factors (None if they have none) and by all.

    `least_g` and `most_g` show how far published factors differ.
    """

    form: YeastForm
    chosen: YeastExchange | None
    weighed: Weighing | None
    published: tuple[YeastExchange, ...]

    @property
    def water_out_g(self) -> Decimal | None:
        """Water to leave out of the recipe, if any."""
        water_g = self.chosen.water_g if self.chosen else Decimal(0)
        return -water_g if water_g < 0 else None

    @property
    def water_in_g(self) -> Decimal | None:
        """Water to add to the recipe, if any."""
        water_g = self.chosen.water_g if self.chosen else Decimal(0)
        return water_g if water_g > 0 else None

    @property
    def least_g(self) -> Decimal:
        """The least by any published set."""
        return self.published[0].mass_g

    @property
    def most_g(self) -> Decimal:
        """The most by any published set."""
        return self.published[-1].mass_g


@dataclass(frozen=True, slots=True)
class YeastLine:
    """A yeast of the batch; `form` is None if neither key, name nor answer gives it."""

    place: UsedIn
    form: YeastForm | None
    answers: tuple[YeastAnswer, ...]


@dataclass(frozen=True, slots=True)
class SaltAnswer:
    """The same mass of another salt, with teaspoons if its density is known."""

    kind: SaltKind
    mass_g: Decimal
    teaspoons: Decimal | None


@dataclass(frozen=True, slots=True)
class SaltLine:
    place: UsedIn
    answers: tuple[SaltAnswer, ...]


@dataclass(frozen=True, slots=True)
class EggAnswer:
    """How many eggs of a size hold the mass."""

    size: EggSize
    count: Count


@dataclass(frozen=True, slots=True)
class EggLine:
    """Whole eggs of the batch in every size; whites and yolks have no sizes here."""

    place: UsedIn
    answers: tuple[EggAnswer, ...]


@dataclass(frozen=True, slots=True)
class FlourLine:
    """A flour of the batch, its protein, and what to watch with the flour at hand."""

    place: UsedIn
    protein: FlourProtein
    note: str
    is_at_hand: bool


@dataclass(frozen=True, slots=True)
class ExchangeSheet:
    """Everything on the page."""

    yeasts: tuple[YeastLine, ...]
    salts: tuple[SaltLine, ...]
    eggs: tuple[EggLine, ...]
    flours: tuple[FlourLine, ...]
    flour_at_hand: FlourProtein | None


def exchange_sheet(
    card: FormulaCard, staples: Staples, asked: Asked, scales: Scales
) -> ExchangeSheet:
    """Every yeast, salt, egg and flour of a batch, line by line."""
    places = tuple(UsedIn(part.name, line.amount) for part in card.parts for line in part.lines)

    def of(kind: str) -> Iterator[UsedIn]:
        return (place for place in places if staples.kinds.get(place.amount.ingredient.key) == kind)

    return ExchangeSheet(
        yeasts=tuple(_yeast(place, asked, scales) for place in of(YEAST)),
        salts=tuple(_salt(place) for place in of(SALT)),
        eggs=tuple(_egg(place) for place in of(EGG)),
        flours=tuple(_flours(tuple(of(FLOUR)), staples, asked)),
        flour_at_hand=asked.flour,
    )


def yeast_form(key: str, name: str) -> YeastForm | None:
    """The form of a yeast by its key, else by the only form that its name contains."""
    if key in YEAST_FORMS:
        return YEAST_FORMS[key]
    named = [form for form in YeastForm if form in name.casefold().replace("-", " ")]
    return named[0] if len(named) == 1 else None


def has_unknown_yeast(formula: Formula, staples: Staples) -> bool:
    """Whether some yeast in the formula has a form that neither key nor name gives."""
    return any(
        staples.kinds.get(line.ingredient.key) == YEAST
        and yeast_form(line.ingredient.key, line.ingredient.name) is None
        for part in formula.components
        for line in part.lines
    )


def _yeast(place: UsedIn, asked: Asked, scales: Scales) -> YeastLine:
    form = yeast_form(place.amount.ingredient.key, place.name) or asked.unknown_form
    if form is None:
        return YeastLine(place, None, ())
    others = (wanted for wanted in YeastForm if wanted is not form)
    return YeastLine(
        place,
        form,
        tuple(
            _yeast_answer(place.amount.exact_g, form, to, asked.factors, scales) for to in others
        ),
    )


def _yeast_answer(
    mass_g: Decimal, given: YeastForm, wanted: YeastForm, factors: YeastFactors, scales: Scales
) -> YeastAnswer:
    chosen = None
    if factors.knows(given, wanted):
        chosen = exchange_yeast(mass_g, given, wanted, factors)
    return YeastAnswer(
        wanted,
        chosen,
        scales.weigh(chosen.mass_g) if chosen else None,
        exchange_yeast_by_all(mass_g, given, wanted),
    )


def _salt(place: UsedIn) -> SaltLine:
    mass_g = place.amount.exact_g
    return SaltLine(
        place,
        tuple(
            SaltAnswer(
                kind,
                exchange_salt(mass_g, kind).mass_g,
                None if kind.weigh_it else salt_teaspoons(mass_g, kind),
            )
            for kind in SALT_KINDS
        ),
    )


def _egg(place: UsedIn) -> EggLine:
    words = f"{place.amount.ingredient.key} {place.name}".casefold()
    if any(part in words for part in _PARTS_OF_EGGS):
        return EggLine(place, ())
    return EggLine(
        place,
        tuple(
            EggAnswer(size, count(place.amount.exact_g, size.edible_g, size.name))
            for size in EGG_SIZES
        ),
    )


def _flours(places: tuple[UsedIn, ...], staples: Staples, asked: Asked) -> Iterator[FlourLine]:
    for place in places:
        key = place.amount.ingredient.key
        protein = staples.flours.get(key) or FlourProtein(place.name, None, is_wheat=False)
        note = protein_note(protein, asked.flour) if asked.flour else ""
        yield FlourLine(place, protein, note, protein == asked.flour)

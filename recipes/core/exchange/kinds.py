"""One thing for another: yeast forms, salt kinds, egg sizes, flours.

Published yeast factors disagree, so they are sets of data, each with its source and editable. Salts
are equal by mass; spoons are given only where a density is known. Masses are grams.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from recipes.core.errors import NoDensity, NoFactor, OutOfRange
from recipes.core.numbers import HUNDRED, ONE, ZERO, not_negative, positive


class YeastForm(StrEnum):
    """The forms baker's yeast is sold in."""

    FRESH = "fresh"
    ACTIVE_DRY = "active dry"
    INSTANT = "instant"


# The keys of the shared ingredients.
YEAST_FORMS: dict[str, YeastForm] = {
    "fresh-yeast": YeastForm.FRESH,
    "active-dry-yeast": YeastForm.ACTIVE_DRY,
    "instant-yeast": YeastForm.INSTANT,
}


@dataclass(frozen=True, slots=True)
class YeastFactors:
    """Grams of dry yeast that replace one gram of fresh; None where a source gives none."""

    key: str
    name: str
    source: str
    active_dry: Decimal | None
    instant: Decimal | None

    def __post_init__(self) -> None:
        for field, factor in (("active_dry", self.active_dry), ("instant", self.instant)):
            if factor is not None:
                positive(field, factor)

    def factor(self, form: YeastForm) -> Decimal:
        """Grams for one gram of fresh yeast. Raises NoFactor."""
        factor = self._factors()[form]
        if factor is None:
            raise NoFactor(self.key, form)
        return factor

    def knows(self, *forms: YeastForm) -> bool:
        """Whether there is a factor for each of the forms."""
        return all(self._factors()[form] is not None for form in forms)

    def _factors(self) -> dict[YeastForm, Decimal | None]:
        return {
            YeastForm.FRESH: ONE,
            YeastForm.ACTIVE_DRY: self.active_dry,
            YeastForm.INSTANT: self.instant,
        }


TEXTBOOK = YeastFactors(
    "textbook",
    "1 : 0.40 : 0.33",
    "a professional bread textbook, second-hand",
    active_dry=Decimal("0.40"),
    instant=Decimal("0.33"),
)
YEAST_FACTORS: tuple[YeastFactors, ...] = (
    TEXTBOOK,
    YeastFactors(
        "packet-and-cake",
        "a 1/4 oz packet for a 0.6 oz cake",
        "a yeast makers' trade association",
        active_dry=Decimal(5) / Decimal(12),
        instant=None,
    ),
    YeastFactors(
        "packet-and-large-cake",
        "a 1/4 oz packet for a 2/3 oz cake",
        "a home baking page",
        active_dry=Decimal("0.375"),
        instant=None,
    ),
    YeastFactors(
        "half",
        "1 lb dry for about 2 lb fresh",
        "a chemical catalog",
        active_dry=Decimal("0.5"),
        instant=None,
    ),
    YeastFactors(
        "kitchen",
        "1 : 0.5 : 0.4",
        "from memory, no source",
        active_dry=Decimal("0.5"),
        instant=Decimal("0.4"),
    ),
)


@dataclass(frozen=True, slots=True)
class YeastExchange:
    """What to weigh instead, and the water to add (below zero: leave out) with it."""

    mass_g: Decimal
    water_g: Decimal
    factors: YeastFactors


def exchange_yeast(
    mass_g: Decimal, given: YeastForm, wanted: YeastForm, factors: YeastFactors = TEXTBOOK
) -> YeastExchange:
    """Yeast in another form. Raises NoFactor when the set does not know one of the forms.

    Fresh yeast is two thirds water: when it is exchanged, water keeps the dough's mass. Between the
    dry forms nothing is made up.
    """
    fresh_g = not_negative("mass_g", mass_g) / factors.factor(given)
    wanted_g = fresh_g * factors.factor(wanted)
    water_g = mass_g - wanted_g if YeastForm.FRESH in (given, wanted) else ZERO
    return YeastExchange(wanted_g, water_g, factors)


def exchange_yeast_by_all(
    mass_g: Decimal, given: YeastForm, wanted: YeastForm
) -> tuple[YeastExchange, ...]:
    """The exchange by every published set that has both forms, the least first."""
    known = (factors for factors in YEAST_FACTORS if factors.knows(given, wanted))
    answers = (exchange_yeast(mass_g, given, wanted, factors) for factors in known)
    return tuple(sorted(answers, key=lambda answer: answer.mass_g))


@dataclass(frozen=True, slots=True)
class SaltKind:
    """A salt: grams in a level US teaspoon, from least to most, and the one to use if known."""

    key: str
    name: str
    least_tsp_g: Decimal
    most_tsp_g: Decimal
    tsp_g: Decimal | None
    source: str

    @property
    def weigh_it(self) -> bool:
        """Whether spoons are too inexact for it."""
        return self.tsp_g is None


TABLE_SALT = SaltKind(
    "table-salt", "table salt", Decimal("6.0"), Decimal("6.1"), Decimal("6.0"), "SR28, NDB 02047"
)
FINE_SEA_SALT = SaltKind(
    "fine-sea-salt", "fine sea salt", Decimal(4), Decimal(6), Decimal("5.6"), "US label weights"
)
LIGHT_FLAKE_SALT = SaltKind(
    "coarse-flake-salt-light",
    "light coarse flake salt",
    Decimal("2.8"),
    Decimal("4.0"),
    None,
    "US label weights, lightest group",
)
DENSE_FLAKE_SALT = SaltKind(
    "coarse-flake-salt-dense",
    "dense coarse flake salt",
    Decimal("4.4"),
    Decimal("6.8"),
    None,
    "US label weights; 6.8 g from memory",
)
SALT_KINDS: tuple[SaltKind, ...] = (
    TABLE_SALT,
    FINE_SEA_SALT,
    LIGHT_FLAKE_SALT,
    DENSE_FLAKE_SALT,
)


@dataclass(frozen=True, slots=True)
class Spoons:
    """Teaspoons of a salt for a mass, from least to most, depending on how it packs."""

    kind: SaltKind
    mass_g: Decimal
    least: Decimal
    most: Decimal


def exchange_salt(mass_g: Decimal, wanted: SaltKind) -> Spoons:
    """The same mass of another salt; only the spoons differ."""
    mass = not_negative("mass_g", mass_g)
    return Spoons(wanted, mass, mass / wanted.most_tsp_g, mass / wanted.least_tsp_g)


def salt_teaspoons(mass_g: Decimal, kind: SaltKind) -> Decimal:
    """Teaspoons that hold a mass in grams. Raises NoDensity for salts that must be weighed."""
    if kind.tsp_g is None:
        raise NoDensity("tsp")
    return not_negative("mass_g", mass_g) / kind.tsp_g


@dataclass(frozen=True, slots=True)
class EggSize:
    """A weight class: grams inside the shell, and the whole egg's legal limits if there are any.

    US classes weigh by the dozen, so the shell limit is the least average; EU classes by the egg.
    """

    system: str
    key: str
    name: str
    edible_g: Decimal
    shell_least_g: Decimal | None
    shell_most_g: Decimal | None
    source: str


# SR28's large egg, 50 g inside, over the least average of its class, 24 oz a dozen.
EDIBLE_SHARE = Decimal(50) / (Decimal(24) * Decimal("28.349523125") / 12)


def _us(key: str, edible: str, dozen_oz: int) -> EggSize:
    shell_g = Decimal(dozen_oz) * Decimal("28.349523125") / 12
    source = "USDA AMS 56.218 for the class, SR28 NDB 01123 for what is inside"
    return EggSize("US", f"us-{key}", key.replace("-", " "), Decimal(edible), shell_g, None, source)


def _eu(key: str, least: int | None, most: int | None) -> EggSize:
    """Grams inside: the class's middle, or its one limit, times the share of SR28's large egg."""
    limits = [Decimal(limit) for limit in (least, most) if limit is not None]
    edible_g = sum(limits, ZERO) / len(limits) * EDIBLE_SHARE
    return EggSize(
        "EU",
        f"eu-{key.lower()}",
        key,
        edible_g,
        None if least is None else Decimal(least),
        None if most is None else Decimal(most),
        "Regulation (EC) 589/2008 Art. 4 for the class; what is inside is computed",
    )


US_LARGE = _us("large", "50", 24)
EGG_SIZES: tuple[EggSize, ...] = (
    _us("jumbo", "63", 30),
    _us("extra-large", "56", 27),
    US_LARGE,
    _us("medium", "44", 21),
    _us("small", "38", 18),
    _eu("XL", 73, None),
    _eu("L", 63, 73),
    _eu("M", 53, 63),
    _eu("S", None, 53),
)


@dataclass(frozen=True, slots=True)
class FlourProtein:
    """A flour's protein in 100 g, as far as known; `is_wheat` says that it makes gluten."""

    name: str
    protein_g: Decimal | None
    is_wheat: bool

    def __post_init__(self) -> None:
        if self.protein_g is not None and not_negative("protein_g", self.protein_g) > HUNDRED:
            raise OutOfRange("protein_g", self.protein_g, least=ZERO, most=HUNDRED)


# Two bags of the same flour can differ by half a gram.
SAME_PROTEIN_G = Decimal("0.5")


def protein_note(given: FlourProtein, wanted: FlourProtein) -> str:
    """What to watch when one flour replaces another: common practice, without figures."""
    if not wanted.is_wheat:
        return (
            f"{wanted.name} makes little or no gluten whatever its protein: expect a denser "
            "bread, or replace only part of it."
        )
    if given.protein_g is None or wanted.protein_g is None:
        return "The protein of one of these flours is not entered: add the water by feel."
    difference = wanted.protein_g - given.protein_g
    words = f"{given.name} {given.protein_g:.1f} g, {wanted.name} {wanted.protein_g:.1f} g in 100 g"
    if abs(difference) < SAME_PROTEIN_G:
        return f"About the same protein ({words})."
    if difference < ZERO:
        return f"Less protein ({words}): the dough is softer, so hold back some of the water."
    return f"More protein ({words}): the dough is stiffer and may take a little more water."

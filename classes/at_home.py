"""What a student's kitchen at home is like, as a value and as the JSON that is kept of it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict, dataclass, field
from decimal import Decimal, InvalidOperation
from typing import Any, Self

from django.db import models

from recipes.baking.exchange import SALT_KINDS, TABLE_SALT, SaltKind, YeastForm


class Measured(models.TextChoices):
    GRAMS = "grams", "Grams alone"
    CUPS = "cups", "Grams, with US cups and spoons beside them"


class FlourCup(models.TextChoices):
    SPOONED = "spooned", "Spooned in and leveled"
    DIPPED = "dipped", "Dipped into the bag"


class Degrees(models.TextChoices):
    CELSIUS = "C", "°C first"
    FAHRENHEIT = "F", "°F first"


class MixedBy(models.TextChoices):
    HAND = "hand", "By hand"
    MIXER = "mixer", "With a mixer"


class PaperSize(models.TextChoices):
    A4 = "a4", "A4"
    LETTER = "letter", "US Letter"


SALTS = {kind.key: kind for kind in SALT_KINDS}

# Common practice: a heated room.
USUAL_ROOM_C = Decimal(21)
COLDEST_ROOM_C, WARMEST_ROOM_C = 5, 45
HIGHEST_M = 5000
MOST_PIECES = 48


@dataclass(frozen=True, slots=True)
class HomeKitchen:
    """A kitchen at home: `pieces` by the key of a recipe's revision, degrees C, meters."""

    pieces: Mapping[str, int] = field(default_factory=dict)
    measured: str = Measured.GRAMS
    flour_cup: str = FlourCup.SPOONED
    degrees: str = Degrees.CELSIUS
    fan: bool = False
    mixed_by: str = MixedBy.HAND
    yeast: str = YeastForm.INSTANT
    salt: str = TABLE_SALT.key
    room_c: Decimal = USUAL_ROOM_C
    altitude_m: int = 0
    page: str = PaperSize.A4

    @classmethod
    def of(cls, kept: Mapping[str, Any]) -> Self:
        """The kitchen that was kept; what is missing or makes no sense is as usual."""
        usual, said = cls(), kept if isinstance(kept, Mapping) else {}

        def one_of(name: str, known: list[str]) -> str:
            return said[name] if said.get(name) in known else getattr(usual, name)

        return cls(
            pieces=_pieces(said.get("pieces")),
            measured=one_of("measured", Measured.values),
            flour_cup=one_of("flour_cup", FlourCup.values),
            degrees=one_of("degrees", Degrees.values),
            fan=said.get("fan") is True,
            mixed_by=one_of("mixed_by", MixedBy.values),
            yeast=one_of("yeast", [str(form) for form in YeastForm]),
            salt=one_of("salt", list(SALTS)),
            room_c=_within(said.get("room_c"), COLDEST_ROOM_C, WARMEST_ROOM_C, usual.room_c),
            altitude_m=int(_within(said.get("altitude_m"), 0, HIGHEST_M, Decimal(0))),
            page=one_of("page", PaperSize.values),
        )

    def kept(self) -> dict[str, Any]:
        """What is kept of it: JSON with the temperature as text, so that it stays exact."""
        words = {name: str(value) for name, value in asdict(self).items() if isinstance(value, str)}
        return {
            **words,
            "pieces": dict(self.pieces),
            "fan": self.fan,
            "room_c": str(self.room_c),
            "altitude_m": self.altitude_m,
        }

    @property
    def has_cups(self) -> bool:
        return self.measured == Measured.CUPS

    @property
    def fahrenheit_first(self) -> bool:
        return self.degrees == Degrees.FAHRENHEIT

    @property
    def by_mixer(self) -> bool:
        return self.mixed_by == MixedBy.MIXER

    @property
    def spoons_flour(self) -> bool:
        return self.flour_cup == FlourCup.SPOONED

    @property
    def paper_size(self) -> str:
        """The paper in words."""
        return str(PaperSize(self.page).label)

    @property
    def yeast_form(self) -> YeastForm:
        return YeastForm(self.yeast)

    @property
    def salt_kind(self) -> SaltKind:
        return SALTS[self.salt]


def _pieces(kept: Any) -> dict[str, int]:
    found = kept.items() if isinstance(kept, Mapping) else ()
    return {key: n for key, n in found if type(n) is int and 1 <= n <= MOST_PIECES}


def _within(kept: Any, least: int, most: int, usual: Decimal) -> Decimal:
    try:
        number = Decimal(str(kept))
    except InvalidOperation:
        return usual
    return number if number.is_finite() and least <= number <= most else usual

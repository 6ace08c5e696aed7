"""Reads our own JSON, `bakebench-recipe` version 1; every fault names its field's path."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable
from dataclasses import dataclass, field
from decimal import Decimal
from typing import Any, TypeVar

from recipes.core.choices import (
    Choice,
    ComponentKind,
    IngredientKind,
    StepKind,
    TemperatureOf,
    Worked,
)
from recipes.core.heat.doneness import BreadKind
from recipes.core.pans.sizes import PanShape
from recipes.core.written import (
    NamedFlour,
    NamedIngredient,
    WrittenLine,
    WrittenPart,
    WrittenRecipe,
    WrittenStep,
)
from recipes.importing.errors import (
    MissingField,
    NotAChoice,
    NotDecimalText,
    NotOurs,
    NumberOutOfRange,
    TextTooLong,
    TooMany,
    UnfitText,
    UnknownField,
    UnknownVersion,
    WrongType,
)
from recipes.importing.jsontext import Fraction, load

FORMAT = "bakebench-recipe"
VERSION = 1

MOST_PARTS = 40
MOST_LINES = 400
MOST_STEPS = 400
_SHOWN = 40
_DECIMAL = re.compile(r"-?[0-9]{1,13}(?:\.[0-9]{1,13})?")
_MASS = Decimal("0.0001"), Decimal("9999999.9999"), 4
_PIECE = Decimal(1), Decimal(20000), 1
_PERCENT = Decimal(0), Decimal(100), 2
_COOKING_LOSS = Decimal(0), Decimal("99.99"), 2
_HYDRATION = Decimal(20), Decimal(500), 2
_FLOUR_PERCENT = Decimal("0.01"), Decimal(100), 2
MOST_FLOURS = 12
_CELSIUS = Decimal(-30), Decimal(350), 1
_PAN_MM = 10, 10_000
_PAN_WATER_ML = 1, 100_000
_Value = TypeVar("_Value")
_Choice = TypeVar("_Choice", bound=Choice)


@dataclass
class _Fields:
    """An object's fields, each read once by name; unread ones are refused."""

    values: dict[str, Any]
    path: str
    seen: set[str] = field(default_factory=set)

    def at(self, name: str) -> str:
        return f"{self.path}.{name}" if self.path else name

    def take(self, name: str, *, needed: bool) -> object:
        self.seen.add(name)
        if name not in self.values and needed:
            raise MissingField(self.at(name))
        return self.values.get(name)

    def text(self, name: str, most: int, *, needed: bool = False, default: str = "") -> str:
        value = self.take(name, needed=needed)
        if value is None and name not in self.values:
            return default
        if not isinstance(value, str):
            raise WrongType(self.at(name), "text")
        if len(value) > most:
            raise TextTooLong(self.at(name), len(value), most)
        if needed and not value.strip():
            raise UnfitText(self.at(name), "nothing")
        for sign in value:
            if sign == "\0" or unicodedata.category(sign) == "Cs":
                raise UnfitText(self.at(name), f"U+{ord(sign):04X}")
        return value

    def choice(self, name: str, words: type[_Choice], default: _Choice | None = None) -> _Choice:
        value = self.text(name, 200, needed=default is None, default=default or "")
        if value not in list(words):
            raise NotAChoice(self.at(name), value[:_SHOWN], tuple(words))
        return words(value)

    def choice_or_none(self, name: str, words: type[_Choice]) -> _Choice | None:
        return self.choice(name, words) if self.text(name, 200) else None

    def decimal(
        self, name: str, least: Decimal, most: Decimal, places: int, *, default: str | None = None
    ) -> Decimal:
        value = self.take(name, needed=default is None)
        if value is None and name not in self.values and default is not None:
            return Decimal(default)
        number = _decimal_text(self.at(name), value)
        fits = number == round(number, places)
        if not least <= number <= most or not fits:
            found = str(value)[:_SHOWN]
            raise NumberOutOfRange(self.at(name), found, str(least), str(most), places)
        return number

    def celsius(self, name: str) -> Decimal | None:
        if self.take(name, needed=False) is None:
            return None
        return self.decimal(name, *_CELSIUS)

    def whole(self, name: str, least: int, most: int, default: int | None = None) -> int:
        value = self.take(name, needed=default is None)
        if name not in self.values and default is not None:
            return default
        if isinstance(value, Fraction):
            raise NumberOutOfRange(self.at(name), value.text[:_SHOWN], str(least), str(most), 0)
        if type(value) is not int:
            raise WrongType(self.at(name), "whole number")
        if not least <= value <= most:
            raise NumberOutOfRange(self.at(name), str(value), str(least), str(most), 0)
        return value

    def whole_or_none(self, name: str, least: int, most: int) -> int | None:
        if self.take(name, needed=False) is None:
            return None
        return self.whole(name, least, most)

    def items(
        self, name: str, most: int, read: Callable[[_Fields], _Value], *, least: int = 0
    ) -> tuple[_Value, ...]:
        value = self.take(name, needed=least > 0)
        if name not in self.values:
            return ()
        if not isinstance(value, list):
            raise WrongType(self.at(name), "list")
        if len(value) > most:
            raise TooMany(self.at(name), len(value), most)
        if len(value) < least:
            raise MissingField(f"{self.at(name)}[{len(value)}]")
        return tuple(_read(item, f"{self.at(name)}[{n}]", read) for n, item in enumerate(value))

    def object(self, name: str, read: Callable[[_Fields], _Value]) -> _Value:
        return _read(self.take(name, needed=True), self.at(name), read)

    def done(self) -> None:
        unknown = sorted(self.values.keys() - self.seen)
        if unknown:
            raise UnknownField(self.at(unknown[0][:_SHOWN]))


def _read(value: object, path: str, read: Callable[[_Fields], _Value]) -> _Value:
    if not isinstance(value, dict):
        raise WrongType(path, "object")
    fields = _Fields(value, path)
    result = read(fields)
    fields.done()
    return result


def _decimal_text(path: str, value: object) -> Decimal:
    if isinstance(value, Fraction):
        raise NotDecimalText(path, value.text[:_SHOWN])
    if isinstance(value, bool) or not isinstance(value, str | int | float):
        raise WrongType(path, "decimal text")
    if not isinstance(value, str) or not _DECIMAL.fullmatch(value):
        raise NotDecimalText(path, str(value)[:_SHOWN])
    return Decimal(value)


def read_document(text: str) -> WrittenRecipe:
    """The recipe of a `bakebench-recipe` text.

    Raises TooMuchText, NotJson, NotOurs, UnknownVersion, or a FieldError that names the path.
    """
    return read_data(load(text))


def read_data(data: object) -> WrittenRecipe:
    """The recipe of a loaded document. Raises as `read_document`, short of reading the text."""
    if not isinstance(data, dict):
        raise NotOurs(type(data).__name__)
    if data.get("format") != FORMAT:
        raise NotOurs(str(data.get("format", "nothing"))[:_SHOWN])
    version = data.get("version")
    if type(version) is not int or version != VERSION:
        raise UnknownVersion(str(version)[:_SHOWN])
    return _read(data, "", _recipe)


def _recipe(fields: _Fields) -> WrittenRecipe:
    fields.seen |= {"format", "version"}
    return WrittenRecipe(
        title=fields.text("title", 100, needed=True),
        summary=fields.text("summary", 300),
        note=fields.text("note", 2000),
        piece_name=fields.text("piece_name", 30, default="loaf"),
        pieces=fields.whole("pieces", 1, 999, default=1),
        piece_g=fields.decimal("piece_g", *_PIECE),
        bake_loss_percent=fields.decimal("bake_loss_percent", *_PERCENT, default="0"),
        dough_temperature_c=fields.celsius("dough_temperature_c"),
        core_temperature_c=fields.celsius("core_temperature_c"),
        equipment=fields.text("equipment", 2000),
        bread_kind=fields.choice_or_none("bread_kind", BreadKind),
        pan_shape=fields.choice_or_none("pan_shape", PanShape),
        pan_length_mm=fields.whole_or_none("pan_length_mm", *_PAN_MM),
        pan_width_mm=fields.whole_or_none("pan_width_mm", *_PAN_MM),
        pan_depth_mm=fields.whole_or_none("pan_depth_mm", *_PAN_MM),
        pan_water_ml=fields.whole_or_none("pan_water_ml", *_PAN_WATER_ML),
        parts=fields.items("components", MOST_PARTS, _part, least=1),
        steps=fields.items("steps", MOST_STEPS, _step),
    )


def _part(fields: _Fields) -> WrittenPart:
    kind = fields.choice("kind", ComponentKind)
    return WrittenPart(
        kind=kind,
        name=fields.text("name", 60, needed=True),
        for_pieces=_for_pieces(fields, kind),
        cooking_loss_percent=fields.decimal("cooking_loss_percent", *_COOKING_LOSS, default="0"),
        lines=fields.items("lines", MOST_LINES, _line, least=1),
    )


def _for_pieces(fields: _Fields, kind: ComponentKind) -> int | None:
    """A whole number for filling, wash and topping, None for what goes into the dough."""
    if not kind.goes_into_dough:
        return fields.whole("for_pieces", 1, 2_147_483_647)
    if fields.take("for_pieces", needed=False) is not None:
        raise WrongType(fields.at("for_pieces"), "nothing")
    return None


def _line(fields: _Fields) -> WrittenLine:
    return WrittenLine(
        ingredient=fields.object("ingredient", _ingredient),
        mass_g=fields.decimal("mass_g", *_MASS),
        entered=fields.text("entered", 40),
        note=fields.text("note", 120),
    )


def _ingredient(fields: _Fields) -> NamedIngredient:
    key, name = fields.text("key", 80), fields.text("name", 80, needed=True)
    kind = fields.choice("kind", IngredientKind, IngredientKind.OTHER)
    if kind is not IngredientKind.STARTER:
        return NamedIngredient(key, name, kind)
    is_said = fields.take("hydration_percent", needed=False) is not None
    hydration = fields.decimal("hydration_percent", *_HYDRATION) if is_said else None
    flours = fields.items("flours", MOST_FLOURS, _flour)
    return NamedIngredient(key, name, kind, hydration, flours)


def _flour(fields: _Fields) -> NamedFlour:
    return NamedFlour(
        key=fields.text("key", 80),
        name=fields.text("name", 80, needed=True),
        percent=fields.decimal("percent", *_FLOUR_PERCENT),
    )


def _step(fields: _Fields) -> WrittenStep:
    return WrittenStep(
        kind=fields.choice("kind", StepKind),
        text=fields.text("text", 600, needed=True),
        hands_on_min=fields.whole("hands_on_min", 0, 1440, default=0),
        waiting_min=fields.whole("waiting_min", 0, 10080, default=0),
        temperature_c=fields.celsius("temperature_c"),
        temperature_of=fields.choice_or_none("temperature_of", TemperatureOf),
        worked=fields.choice_or_none("worked", Worked),
    )

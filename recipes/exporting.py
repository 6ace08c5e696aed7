"""A recipe out: schema.org Recipe JSON-LD, and our own JSON without any loss.

Numbers are written as text in plain digits, so that no reader makes binary floats of them.
"""

from __future__ import annotations

import json
from collections.abc import Iterable
from decimal import ROUND_HALF_UP, Decimal
from typing import Any

from recipes.core.choices import StepKind
from recipes.importing.document import FORMAT, VERSION
from recipes.importing.method.durations import duration
from recipes.importing.record import (
    PARTS_FOR_PIECES,
    LineRecord,
    PartRecord,
    RecipeRecord,
    StepRecord,
    own_pan_of,
)
from recipes.importing.schema import vocabulary as words
from recipes.importing.schema.vocabulary import plain
from recipes.pieces import pieces_in_words

_COOKING = ("bake",)


def document(record: RecipeRecord) -> dict[str, Any]:
    """Our own JSON as a dictionary; `recipes.importing.document` reads it back."""
    return {
        "format": FORMAT,
        "version": VERSION,
        "title": record.title,
        "summary": record.summary,
        "note": record.note,
        "piece_name": record.piece_name,
        "pieces": record.pieces,
        "piece_g": plain(record.piece_g),
        "bake_loss_percent": plain(record.bake_loss_percent),
        "dough_temperature_c": _celsius(record.dough_temperature_c),
        "core_temperature_c": _celsius(record.core_temperature_c),
        "equipment": record.equipment,
        **own_pan_of(record),
        "components": [_part(part) for part in record.parts],
        "steps": [
            {
                "kind": step.kind,
                "text": step.text,
                "hands_on_min": step.hands_on_min,
                "waiting_min": step.waiting_min,
                "temperature_c": _celsius(step.temperature_c),
                "temperature_of": step.temperature_of,
                "worked": step.worked,
            }
            for step in record.steps
        ],
    }


def _celsius(temperature_c: Decimal | None) -> str | None:
    return None if temperature_c is None else plain(temperature_c)


def _part(part: PartRecord) -> dict[str, Any]:
    return {
        "kind": part.kind,
        "name": part.name,
        "for_pieces": part.for_pieces,
        "cooking_loss_percent": plain(part.cooking_loss_percent),
        "lines": [
            {
                "ingredient": {
                    "key": line.ingredient.key,
                    "name": line.ingredient.name,
                    "kind": line.ingredient.kind,
                },
                "mass_g": plain(line.mass_g),
                "entered": line.entered,
                "note": line.note,
            }
            for line in part.lines
        ],
    }


def document_text(record: RecipeRecord) -> str:
    """Our own JSON as text."""
    return json.dumps(document(record), ensure_ascii=False, indent=2) + "\n"


def jsonld(record: RecipeRecord) -> dict[str, Any]:
    """The recipe as a schema.org Recipe; parts and percentages stand in PropertyValues."""
    cooking = _minutes(step for step in record.steps if step.kind in _COOKING)
    total = _minutes(record.steps)
    page: dict[str, Any] = {
        "@context": words.CONTEXT,
        "@type": "Recipe",
        "name": record.title,
        "description": record.summary,
        "recipeYield": pieces_in_words(record.pieces, record.piece_name),
        "yield": _yield(record),
        "prepTime": duration(total - cooking),
        "cookTime": duration(cooking),
        "totalTime": duration(total),
        "recipeIngredient": [
            _ingredient_text(line) for part in record.parts for line in part.lines
        ],
        "supply": _supplies(record),
        "tool": [{"@type": "HowToTool", "name": one} for one in record.equipment.split("\n")],
        "recipeInstructions": [_step(n, step) for n, step in enumerate(record.steps, start=1)],
    }
    if not record.equipment:
        del page["tool"]
    if record.note:
        page["comment"] = {"@type": "Comment", "text": record.note}
    return page


def jsonld_text(record: RecipeRecord) -> str:
    """The JSON-LD as text, fit to stand in a page: no `<` can end its script element."""
    text = json.dumps(jsonld(record), ensure_ascii=False, indent=2)
    return text.replace("<", "\\u003c") + "\n"


def _minutes(steps: Iterable[StepRecord]) -> int:
    return sum(step.hands_on_min + step.waiting_min for step in steps)


def _property(
    name: str, identifier: str, value: Decimal | str | int, unit: str = "", **more: Any
) -> dict[str, Any]:
    written = plain(value) if isinstance(value, Decimal) else value
    code = {"unitCode": unit} if unit else {}
    return {
        "@type": "PropertyValue", "propertyID": identifier, "name": name, "value": written,
        **code, **more,
    }  # fmt: skip


def _yield(record: RecipeRecord) -> dict[str, Any]:
    properties = [
        _property("Format", words.FORMAT_ID, VERSION),
        _property("Dough in one piece", words.PIECE_ID, record.piece_g, words.GRAM),
        _property("Bake loss", words.BAKE_LOSS_ID, record.bake_loss_percent, words.PERCENT),
    ]
    for name, identifier, temperature_c in (
        ("Dough temperature", words.DOUGH_TEMPERATURE_ID, record.dough_temperature_c),
        ("Core temperature", words.CORE_TEMPERATURE_ID, record.core_temperature_c),
    ):
        if temperature_c is not None:
            properties.append(_property(name, identifier, temperature_c, words.CELSIUS))
    for name, (label, identifier, unit) in words.OWN_PAN.items():
        if value := getattr(record, name):
            properties.append(_property(label, identifier, value, unit))
    properties += [_part_property(part) for part in record.parts]
    return {
        "@type": "QuantitativeValue",
        "value": record.pieces,
        "unitText": record.piece_name,
        "additionalProperty": properties,
    }


def _part_property(part: PartRecord) -> dict[str, Any]:
    details = [
        _property("Cooking loss", words.COOKING_LOSS_ID, part.cooking_loss_percent, words.PERCENT)
    ]
    if part.for_pieces is not None:
        details.append(_property("For pieces", words.FOR_PIECES_ID, part.for_pieces))
    return _property(part.name, words.PART_ID, part.kind, valueReference=details)


def _ingredient_text(line: LineRecord) -> str:
    note = f", {line.note}" if line.note else ""
    return f"{plain(line.mass_g)} g {line.ingredient.name}{note}"


def _supplies(record: RecipeRecord) -> list[dict[str, Any]]:
    dough = [part for part in record.parts if part.kind not in PARTS_FOR_PIECES]
    flour_g = sum(
        (line.mass_g for part in dough for line in part.lines if line.ingredient.kind == "flour"),
        Decimal(0),
    )
    return [_supply(line, n, flour_g) for n, part in enumerate(record.parts) for line in part.lines]


def _supply(line: LineRecord, part: int, flour_g: Decimal) -> dict[str, Any]:
    properties = [
        _property("Part", words.PART_ID, part),
        _property("Kind", words.KIND_ID, line.ingredient.kind),
    ]
    if line.entered:
        properties.append(_property("As entered", words.ENTERED_ID, line.entered))
    if flour_g:
        share = (line.mass_g * 100 / flour_g).quantize(Decimal("0.01"), ROUND_HALF_UP)
        name = "Baker's percentage"
        properties.append(_property(name, words.BAKERS_PERCENT_ID, share, words.PERCENT))
    supply: dict[str, Any] = {
        "@type": "HowToSupply",
        "name": line.ingredient.name,
        "requiredQuantity": {
            "@type": "QuantitativeValue",
            "value": plain(line.mass_g),
            "unitCode": words.GRAM,
            "additionalProperty": properties,
        },
    }
    if line.ingredient.key:
        supply["identifier"] = line.ingredient.key
    if line.note:
        supply["description"] = line.note
    return supply


def _step(position: int, step: StepRecord) -> dict[str, Any]:
    properties = [_property("Kind", words.STEP_KIND_ID, step.kind)]
    if step.temperature_c is not None:
        temperature = _property(
            "Temperature", words.TEMPERATURE_ID, step.temperature_c, words.CELSIUS
        )
        properties.append(temperature)
    if step.temperature_of:
        properties.append(_property("Temperature of", words.TEMPERATURE_OF_ID, step.temperature_of))
    if step.worked:
        properties.append(_property("Worked", words.WORKED_ID, step.worked))
    return {
        "@type": "HowToStep",
        "position": position,
        "name": StepKind(step.kind).label,
        "text": step.text,
        "itemListElement": {
            "@type": "HowToDirection",
            "text": step.text,
            "prepTime": duration(step.hands_on_min),
            "performTime": duration(step.waiting_min),
        },
        "additionalProperty": properties,
    }

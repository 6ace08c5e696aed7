"""Recipe JSON-LD that Bakebench wrote, read exactly.

Its fields are converted to our own JSON, whose reader then checks every one.
"""

from __future__ import annotations

from typing import Any

from recipes.core.choices import IngredientKind
from recipes.core.written import WrittenRecipe
from recipes.importing.document import FORMAT, VERSION, read_data
from recipes.importing.errors import FieldError
from recipes.importing.method.durations import minutes_of
from recipes.importing.schema import vocabulary as words


class _Foreign(Exception):
    """Some part of the node is not as we write it."""


def read_own(node: dict[str, Any]) -> WrittenRecipe | None:
    """The recipe of a node as `recipes.exporting.jsonld` writes it; None for any other."""
    try:
        makes = _object(node.get("yield"))
        facts = _listed(makes.get("additionalProperty"))
        if _value(facts, words.FORMAT_ID) != VERSION:
            return None
        return read_data(_document(node, makes, facts))
    except (_Foreign, FieldError):
        return None


def _document(
    node: dict[str, Any], makes: dict[str, Any], facts: list[dict[str, Any]]
) -> dict[str, Any]:
    parts = [_part(fact) for fact in facts if fact.get("propertyID") == words.PART_ID]
    for supply in _listed(node.get("supply")):
        _add_line(parts, supply)
    tools = [_object(tool).get("name") for tool in _listed(node.get("tool", []))]
    if not all(isinstance(tool, str) for tool in tools):
        raise _Foreign
    return {
        "format": FORMAT,
        "version": VERSION,
        "title": node.get("name"),
        "summary": node.get("description"),
        "note": _object(node.get("comment", {})).get("text", ""),
        "piece_name": makes.get("unitText"),
        "pieces": makes.get("value"),
        "piece_g": _value(facts, words.PIECE_ID),
        "bake_loss_percent": _value(facts, words.BAKE_LOSS_ID),
        "dough_temperature_c": _value(facts, words.DOUGH_TEMPERATURE_ID),
        "core_temperature_c": _value(facts, words.CORE_TEMPERATURE_ID),
        "equipment": "\n".join(map(str, tools)),
        **_own_pan(facts),
        "components": parts,
        "steps": [_step(step) for step in _listed(node.get("recipeInstructions"))],
    }


def _own_pan(facts: list[dict[str, Any]]) -> dict[str, Any]:
    found = {name: _value(facts, words.OWN_PAN[name][1]) for name in words.OWN_PAN}
    return {name: value for name, value in found.items() if value is not None}


def _object(value: object) -> dict[str, Any]:
    if not isinstance(value, dict):
        raise _Foreign
    return value


def _listed(value: object) -> list[dict[str, Any]]:
    if not isinstance(value, list) or not all(isinstance(item, dict) for item in value):
        raise _Foreign
    return value


def _value(properties: list[dict[str, Any]], identifier: str) -> object:
    """The value of the first property with that identifier, or None."""
    found = (entry.get("value") for entry in properties if entry.get("propertyID") == identifier)
    return next(found, None)


def _part(fact: dict[str, Any]) -> dict[str, Any]:
    details = _listed(fact.get("valueReference"))
    return {
        "kind": fact.get("value"),
        "name": fact.get("name"),
        "for_pieces": _value(details, words.FOR_PIECES_ID),
        "cooking_loss_percent": _value(details, words.COOKING_LOSS_ID),
        "lines": [],
    }


def _add_line(parts: list[dict[str, Any]], supply: dict[str, Any]) -> None:
    quantity = _object(supply.get("requiredQuantity"))
    properties = _listed(quantity.get("additionalProperty"))
    part = _value(properties, words.PART_ID)
    if quantity.get("unitCode") != words.GRAM or type(part) is not int:
        raise _Foreign
    if not 0 <= part < len(parts):
        raise _Foreign
    kind = _value(properties, words.KIND_ID)
    line = {
        "ingredient": {
            "key": supply.get("identifier", ""),
            "name": supply.get("name"),
            "kind": kind,
            **(_starter(properties) if kind == IngredientKind.STARTER else {}),
        },
        "mass_g": quantity.get("value"),
        "entered": _value(properties, words.ENTERED_ID) or "",
        "note": supply.get("description", ""),
    }
    parts[part]["lines"].append(line)


def _starter(properties: list[dict[str, Any]]) -> dict[str, Any]:
    flours = [fact for fact in properties if fact.get("propertyID") == words.FLOUR_ID]
    return {
        "hydration_percent": _value(properties, words.HYDRATION_ID),
        "flours": [
            {
                "key": flour.get("identifier", ""),
                "name": flour.get("name"),
                "percent": flour.get("value"),
            }
            for flour in flours
        ],
    }


def _step(step: dict[str, Any]) -> dict[str, Any]:
    direction = _object(step.get("itemListElement"))
    properties = _listed(step.get("additionalProperty"))
    return {
        "kind": _value(properties, words.STEP_KIND_ID),
        "text": step.get("text"),
        "hands_on_min": _minutes(direction.get("prepTime")),
        "waiting_min": _minutes(direction.get("performTime")),
        "temperature_c": _value(properties, words.TEMPERATURE_ID),
        "temperature_of": _value(properties, words.TEMPERATURE_OF_ID) or "",
        "worked": _value(properties, words.WORKED_ID) or "",
    }


def _minutes(value: object) -> int | None:
    return minutes_of(value) if isinstance(value, str) else None

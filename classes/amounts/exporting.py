"""The amounts of a class as JSON and CSV: the same numbers as on every page and paper."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator
from decimal import Decimal
from typing import Any

from classes.core.demand import TaughtAmounts
from classes.core.shopping import ShoppingLine
from classes.plan import ClassPlan
from classes.safe_csv import harmless
from recipes.core.scaling import PersonAmounts, Sheet
from recipes.core.weighing import Weighing
from wording import figures

CSV_COLUMNS = (
    "list",
    "who",
    "station",
    "recipe",
    "component",
    "ingredient",
    "exact_g",
    "weighed_g",
    "weighed_as",
    "unit",
    "step_g",
    "in_stock_g",
    "packs",
    "pack_g",
    "left_g",
    "pack_price",
    "cost",
    "currency",
    "pieces",
    "note",
)

KEPT_BACK = "stays in the tub"
FROM_TUB = "from the tub"


def plain(number: Decimal) -> str:
    """A decimal in plain digits, with at most six decimals."""
    return figures.plain(number.quantize(Decimal("0.000001")))


def _lines(recipe: TaughtAmounts, sheet: Sheet) -> list[dict[str, str | bool]]:
    """What is weighed: a part from a tub is one line; `weighed_as` says more about other lines."""
    found = []
    for part in sheet.components:
        if part.tub:
            found.append(_line(part.name, FROM_TUB, part.exact_g, part.tub))
        found += [
            _line(part.name, line.ingredient.name, line.exact_g, line.weighed, line.how)
            for line in part.to_weigh
        ]
    return [{"recipe": recipe.taught.label, **line} for line in found]


def _line(
    component: str, ingredient: str, exact_g: Decimal, weighed: Weighing, how: str = ""
) -> dict[str, str | bool]:
    return {
        "component": component,
        "ingredient": ingredient,
        "exact_g": plain(exact_g),
        "weighed_g": plain(weighed.grams),
        "weighed_as": how,
        "unit": "g",
        "step_g": plain(weighed.step_g),
        "coarse": weighed.coarse,
    }


def _held(sheet: Sheet) -> list[dict[str, str]]:
    """What is in parts that come from a tub: exact, and not weighed by those who take it."""
    return [
        {
            "component": part.name,
            "ingredient": line.ingredient.name,
            "exact_g": plain(line.exact_g),
        }
        for part in sheet.components
        for line in (part.lines if part.tub else ())
    ]


def _totals(recipe: TaughtAmounts, sheet: Sheet) -> dict[str, str]:
    return {
        "recipe": recipe.taught.label,
        "dough_exact_g": plain(sheet.dough_g),
        "dough_weighed_g": plain(sheet.weighed_dough_g),
    }


def _person(recipe: TaughtAmounts, person: PersonAmounts) -> dict[str, Any]:
    return {
        "name": person.baker.name,
        "station": person.baker.station,
        "pieces": person.baker.pieces,
        "piece_g": plain(person.baker.piece_g),
        **_totals(recipe, person.sheet),
        "lines": _lines(recipe, person.sheet),
        "in_tubs": _held(person.sheet),
    }


def _dusting(recipe: TaughtAmounts) -> dict[str, str | None]:
    flour = recipe.taught.dusting_flour
    return {
        "dusting_flour": flour.name if flour else None,
        "dusting_g": plain(recipe.taught.dusting_g),
    }


def _divided(recipe: TaughtAmounts) -> Iterator[dict[str, Any]]:
    """What is made in one tub, and what each station or person weighs from it."""
    bulk = (part for part in recipe.amounts.pooled.components if part.kind.made_in_bulk)
    for part, tub in zip(bulk, recipe.amounts.divisions, strict=True):
        yield {
            "recipe": recipe.taught.label,
            "component": tub.component,
            "exact_g": plain(tub.exact_g),
            "weighed_g": plain(tub.weighed_g),
            "kept_back_g": plain(tub.kept_back_g),
            "cooked_g": plain(part.cooked_g),
            "shares": [{"name": name, "weighed_g": plain(share_g)} for name, share_g in tub.shares],
        }


def _shopping(line: ShoppingLine) -> dict[str, Any]:
    return {
        "ingredient": line.ingredient.name,
        "exact_g": plain(line.needed_g),
        "weighed_g": plain(line.weighed.grams),
        "unit": "g",
        "step_g": plain(line.weighed.step_g),
        "bakers_g": plain(line.need.bakers_g),
        "demonstrations_g": plain(line.need.demonstrations_g),
        "loss_g": plain(line.need.loss_g),
        "dusting_g": plain(line.need.dusting_g),
        "brought_g": plain(line.need.brought_g),
        "in_stock_g": plain(line.supply.on_hand_g),
        "packs": line.packs,
        "pack_g": plain(line.supply.pack_g) if line.supply.pack_g else None,
        "short_g": plain(line.short_g),
        "opened_g": plain(line.opened_g),
        "buy": line.buy_words,
        "pieces": line.count.take if line.count else None,
        "note": "; ".join(line.notes),
        "left_g": plain(line.left_g),
        "from_tap": line.supply.tap,
        "pack_price": line.price.plain if line.price else None,
        "cost": line.cost.plain if line.cost else None,
        "currency": line.currency if line.price else None,
    }


def amounts_document(plan: ClassPlan) -> dict[str, Any]:
    """Everything the amounts page shows, masses as decimal strings in grams."""
    recipes = plan.amounts.recipes
    return {
        "class": {"code": plan.code, "title": plan.title},
        "recipes": [recipe.taught.label for recipe in recipes],
        "students": [
            _person(recipe, person) | _dusting(recipe)
            for recipe in recipes
            for person in recipe.amounts.persons
        ],
        "demonstrations": [
            _person(recipe, demonstration)
            for recipe in recipes
            for demonstration in recipe.amounts.shown
        ],
        "brought": [
            {"stage": brought_dough.baker.brought} | _person(recipe, brought_dough)
            for recipe in recipes
            for brought_dough in recipe.amounts.brought
        ],
        "stations": [
            {
                "station": at.station,
                "people": [baker.name for baker in at.bakers],
                **_totals(recipe, at.sheet),
                "lines": _lines(recipe, at.sheet),
                "in_tubs": _held(at.sheet),
            }
            for recipe in recipes
            for at in recipe.amounts.stations
        ],
        "pooled": [
            {
                **_totals(recipe, recipe.amounts.pooled),
                "lines": _lines(recipe, recipe.amounts.pooled),
            }
            for recipe in recipes
        ],
        "divided": [tub for recipe in recipes for tub in _divided(recipe)],
        "shopping": [_shopping(line) for line in plan.shopping.lines],
        "cash_out": {
            "currency": plan.shopping.currency,
            "known": plan.shopping.cash_out.known.plain,
            "without_price": list(plan.shopping.cash_out.missing),
        },
    }


def _csv_rows(document: dict[str, Any]) -> Iterator[dict[str, object]]:
    for name in ("students", "demonstrations", "brought", "stations", "pooled"):
        for entry in document[name]:
            who = {"list": name, "who": entry.get("name"), "station": entry.get("station")}
            yield from (who | line for line in entry["lines"])
    for tub in document["divided"]:
        kept = {"name": KEPT_BACK, "weighed_g": tub["kept_back_g"]}
        for share in (*tub["shares"], kept):
            yield {
                "list": "divided",
                "who": share["name"],
                "recipe": tub["recipe"],
                "component": tub["component"],
                "weighed_g": share["weighed_g"],
                "unit": "g",
            }
    for line in document["shopping"]:
        yield {"list": "shopping"} | line


def amounts_csv(plan: ClassPlan) -> str:
    """The same lines as a table, one row per line."""
    out = io.StringIO()
    writer = csv.DictWriter(out, CSV_COLUMNS, extrasaction="ignore", restval="")
    writer.writeheader()
    for row in _csv_rows(amounts_document(plan)):
        numeric = (
            "exact_g",
            "weighed_g",
            "step_g",
            "in_stock_g",
            "left_g",
            "pack_g",
            "packs",
            "pieces",
        )
        writer.writerow(
            {key: value if key in numeric else harmless(value) for key, value in row.items()}
        )
    return out.getvalue()

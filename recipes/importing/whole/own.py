"""The text that Bakebench writes of a recipe, read again without loss.

If a line was changed into something else, nothing is read here: then it is a text like any other.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from decimal import Decimal
from typing import Any

from recipes.core.choices import (
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
from recipes.importing.text.matching import IngredientBook
from recipes.importing.text.words import KIND_WORDS

LAST_LINE = "Recipe text of Bakebench, version 1"
FACTS = {
    "bake_loss_percent": ("Loss in the oven", "%"),
    "dough_temperature_c": ("Dough temperature", "°C"),
    "core_temperature_c": ("Core temperature", "°C"),
    "bread_kind": ("Kind of bread", ""),
}
PAN = ("pan_shape", "pan_length_mm", "pan_width_mm", "pan_depth_mm", "pan_water_ml")
MARK_OF = {
    "hands_on_min": "hands on {} min",
    "waiting_min": "waiting {} min",
    "temperature_c": "{} °C",
    "temperature_of": "of the {}",
    "worked": "by {}",
}
NO_WATER = "water not known"
STARTERS = "Starters of this recipe"
_SECTIONS = ("Ingredients", STARTERS, "Equipment", "Method", "Notes")
_YIELD = re.compile(r"Makes ([0-9]{1,4}) pieces of ([0-9.]{1,12}) g \((.*)\)")
_PART = re.compile(r"(?P<name>.+) \((?P<facts>[^()]+)\)")
_LINE = re.compile(
    r"(?P<grams>[0-9.]{1,15}) g(?: \((?P<entered>[^()]+)\))? (?P<name>[^;]+)(?:; (?P<note>.+))?"
)
_STARTER = re.compile(
    rf"(?P<name>.+): (?:(?P<water>[0-9.]{{1,8}}) % water|{NO_WATER})(?P<flours>(?:; .+)?)"
)
_FLOUR = re.compile(r"(?P<percent>[0-9.]{1,8}) % (?P<name>.+)")
_STEP = re.compile(r"[0-9]{1,3}\. (?P<text>.+) \((?P<facts>[^()]+)\)", re.DOTALL)
_MARKS = {
    name: re.compile(re.escape(mark).replace(r"\{\}", "(.+)")) for name, mark in MARK_OF.items()
}
_READ: dict[str, Callable[[str], Any]] = {
    "hands_on_min": int,
    "waiting_min": int,
    "temperature_c": Decimal,
    "temperature_of": TemperatureOf,
    "worked": Worked,
    "bread_kind": BreadKind,
    "pan_shape": PanShape,
}


class _NotOurs(ValueError):
    """A line that Bakebench does not write there."""


@dataclass
class _Blocks:
    """The lines of a text by its sections, the head's under an empty name."""

    lines: dict[str, list[str]] = field(default_factory=lambda: {"": []})

    def under(self, name: str) -> list[str]:
        return [line for line in self.lines.get(name, []) if line]


def read_own_text(text: str, book: IngredientBook) -> WrittenRecipe | None:
    """The recipe of a text that Bakebench wrote, None for any other."""
    lines = text.rstrip().splitlines()
    if not lines or lines[-1].strip() != LAST_LINE:
        return None
    try:
        return _recipe(_blocks(lines[:-1]), book)
    except ValueError:
        return None


def _blocks(lines: Sequence[str]) -> _Blocks:
    blocks, name = _Blocks(), ""
    for n, line in enumerate(lines):
        opens = line in _SECTIONS and line not in blocks.lines and n and not lines[n - 1]
        name = line if opens else name
        if not opens:
            blocks.lines.setdefault(name, []).append(line.rstrip())
        else:
            blocks.lines[name] = []
    return blocks


def _recipe(blocks: _Blocks, book: IngredientBook) -> WrittenRecipe:
    title, *head = blocks.under("")
    at = next((n for n, line in enumerate(head) if _YIELD.fullmatch(line)), None)
    if at is None or at > 1:
        raise _NotOurs
    found = _matched(_YIELD, head[at])
    return replace(
        WrittenRecipe(
            title=title,
            summary=head[0] if at else "",
            pieces=int(found[1]),
            piece_g=Decimal(found[2]),
            piece_name=found[3],
            parts=tuple(_parts(blocks, book)),
            steps=tuple(map(_step, _joined(blocks.under("Method")))),
            equipment="\n".join(blocks.under("Equipment")),
            note="\n".join(blocks.under("Notes")),
        ),
        **dict(_facts(head[at + 1 :])),
    )


def _facts(lines: Sequence[str]) -> Iterator[tuple[str, Any]]:
    for line in lines:
        label, _, value = line.partition(": ")
        if label == "Pan":
            for measure in value.split(", "):
                name, _, size = measure.partition(" ")
                if name not in PAN:
                    raise _NotOurs
                yield name, _READ.get(name, int)(size)
            continue
        name, unit = next(((n, unit) for n, (own, unit) in FACTS.items() if own == label), ("", ""))
        if not name or not value.endswith(unit):
            raise _NotOurs
        yield name, _READ.get(name, Decimal)(value.removesuffix(unit).strip())


def _matched(pattern: re.Pattern[str], line: str) -> re.Match[str]:
    found = pattern.fullmatch(line)
    if found is None:
        raise _NotOurs
    return found


def _starters(lines: Sequence[str], book: IngredientBook) -> Iterator[NamedIngredient]:
    """The starters of a recipe with their water and flours."""
    for line in lines:
        found = _matched(_STARTER, line)
        water = Decimal(found["water"]) if found["water"] else None
        flours = tuple(_flour(text, book) for text in found["flours"].split("; ")[1:])
        known = book.named(found["name"])
        key, kind = known.key if known else "", IngredientKind.STARTER
        yield NamedIngredient(key, found["name"], kind, water, flours)


def _flour(text: str, book: IngredientBook) -> NamedFlour:
    found = _matched(_FLOUR, text)
    known = book.named(found["name"])
    return NamedFlour(known.key if known else "", found["name"], Decimal(found["percent"]))


def _parts(blocks: _Blocks, book: IngredientBook) -> Iterator[WrittenPart]:
    part: WrittenPart | None = None
    starters = {named.name: named for named in _starters(blocks.under(STARTERS), book)}
    for line in blocks.under("Ingredients"):
        if opened := _PART.fullmatch(line):
            if part:
                yield part
            part = _part(opened["name"], opened["facts"].split("; "))
        elif part is None:
            raise _NotOurs
        else:
            read = _line(line, book)
            named = starters.get(read.ingredient.name, read.ingredient)
            part = replace(part, lines=(*part.lines, replace(read, ingredient=named)))
    if part:
        yield part


def _part(name: str, facts: Sequence[str]) -> WrittenPart:
    part = WrittenPart(ComponentKind(facts[0]), name)
    for fact in facts[1:]:
        if pieces := re.fullmatch(r"for ([0-9]+) pieces", fact):
            part = replace(part, for_pieces=int(pieces[1]))
        else:
            loss = _matched(re.compile(r"([0-9.]+) % cooks off"), fact)
            part = replace(part, cooking_loss_percent=Decimal(loss[1]))
    return part


def _line(line: str, book: IngredientBook) -> WrittenLine:
    found = _matched(_LINE, line)
    known = book.named(found["name"])
    kind = known.kind if known else KIND_WORDS.get(found["name"].lower().rpartition(" ")[2])
    key = known.key if known else ""
    named = NamedIngredient(key, found["name"], kind or IngredientKind.OTHER)
    return WrittenLine(named, Decimal(found["grams"]), found["entered"] or "", found["note"] or "")


def _joined(lines: Sequence[str]) -> list[str]:
    """Steps with their further lines, which are indented."""
    steps: list[str] = []
    for line in lines:
        if line.startswith("   ") and steps:
            steps[-1] += f"\n{line[3:]}"
        else:
            steps.append(line)
    return steps


def _step(text: str) -> WrittenStep:
    found = _matched(_STEP, text)
    kind, *facts = found["facts"].split("; ")
    values: dict[str, Any] = {}
    for fact in facts:
        name, said = next(
            ((n, one[1]) for n, mark in _MARKS.items() if (one := mark.fullmatch(fact))), ("", "")
        )
        if not name or name in values:
            raise _NotOurs
        values[name] = _READ[name](said)
    return WrittenStep(StepKind(kind), found["text"], **values)

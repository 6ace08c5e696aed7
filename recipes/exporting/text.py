"""A recipe as plain text to read, print or send; `recipes.importing.whole.own` reads it.

Nothing is lost except what is known about ingredients beyond their names; of starters, water and
flours are there.
"""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from recipes.core.choices import IngredientKind
from recipes.core.written import (
    NamedIngredient,
    WrittenLine,
    WrittenPart,
    WrittenRecipe,
    WrittenStep,
    said,
)
from recipes.importing.whole.own import FACTS, LAST_LINE, MARK_OF, NO_WATER, PAN, STARTERS
from wording.figures import plain


def recipe_text(written: WrittenRecipe) -> str:
    """The text of a settled recipe. Raises Unsettled for another."""
    return "\n".join(_lines(written)) + "\n"


def _lines(written: WrittenRecipe) -> Iterator[str]:
    yield written.title
    if written.summary:
        yield written.summary
    piece_g = plain(said(written.piece_g))
    yield f"Makes {said(written.pieces)} pieces of {piece_g} g ({written.piece_name})"
    for name, (label, unit) in FACTS.items():
        value = getattr(written, name)
        if value is not None:
            yield f"{label}: {plain(value) if isinstance(value, Decimal) else value} {unit}".strip()
    pan = [f"{name} {value}" for name in PAN if (value := getattr(written, name)) is not None]
    if pan:
        yield f"Pan: {', '.join(pan)}"
    yield from ("", "Ingredients")
    for part in written.parts:
        yield from ("", f"{part.name} ({_part_facts(part)})", *map(_line, part.lines))
    if starters := dict.fromkeys(filter(_is_starter, _ingredients(written))):
        yield from ("", STARTERS, *map(_starter, starters))
    if written.equipment:
        yield from ("", "Equipment", *written.equipment.splitlines())
    yield from ("", "Method")
    for n, step in enumerate(written.steps, start=1):
        yield f"{n}. {_indented(step.text)} ({_step_facts(step)})"
    if written.note:
        yield from ("", "Notes", *written.note.splitlines())
    yield from ("", LAST_LINE)


def _indented(text: str) -> str:
    """A text with its further lines indented, to tell them from the next step."""
    return text.replace("\n", "\n   ")


def _part_facts(part: WrittenPart) -> str:
    found = [part.kind.value]
    if part.for_pieces is not None:
        found.append(f"for {part.for_pieces} pieces")
    if part.cooking_loss_percent:
        found.append(f"{plain(part.cooking_loss_percent)} % cooks off")
    return "; ".join(found)


def _line(line: WrittenLine) -> str:
    entered = f" ({line.entered})" if line.entered else ""
    note = f"; {line.note}" if line.note else ""
    return f"{plain(line.grams)} g{entered} {line.ingredient.name}{note}"


def _ingredients(written: WrittenRecipe) -> Iterator[NamedIngredient]:
    return (line.ingredient for part in written.parts for line in part.lines)


def _is_starter(named: NamedIngredient) -> bool:
    return named.kind is IngredientKind.STARTER


def _starter(named: NamedIngredient) -> str:
    """A starter with its water, if known, and its flours, in percent of its flour."""
    water = named.hydration_percent
    told = [f"{plain(water)} % water" if water is not None else NO_WATER]
    told += [f"{plain(flour.percent)} % {flour.name}" for flour in named.flours]
    return f"{named.name}: {'; '.join(told)}"


def _step_facts(step: WrittenStep) -> str:
    found = [step.kind.value]
    for name, mark in MARK_OF.items():
        value = getattr(step, name)
        if value not in (None, 0) or (name == "temperature_c" and value is not None):
            found.append(mark.format(plain(value) if isinstance(value, Decimal) else value))
    return "; ".join(found)

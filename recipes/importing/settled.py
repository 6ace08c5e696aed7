"""A settled recipe shown as one that was read, so that it can be reviewed like any other."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from decimal import Decimal

from recipes.core.units import parse_unit
from recipes.core.written import NamedFlour, NamedIngredient, WrittenLine, WrittenRecipe
from recipes.importing import doubts
from recipes.importing.naming.spelling import stems
from recipes.importing.text.matching import IngredientBook
from recipes.importing.values import Match, Reading, ReadLine, Sureness
from wording.figures import plain

_GRAM = parse_unit("g")


def reading_of(written: WrittenRecipe, book: IngredientBook) -> Reading:
    """The recipe line by line; ingredients that are not in the book have a doubt."""
    lines = tuple(
        _line(line, n, book) for n, part in enumerate(written.parts) for line in part.lines
    )
    return Reading(written, lines, step_doubts=((),) * len(written.steps))


def _line(line: WrittenLine, part: int, book: IngredientBook) -> ReadLine:
    match = _match(line.ingredient, book)
    return ReadLine(
        line,
        text=f"{plain(line.grams)} g {line.ingredient.name}",
        match=match,
        quantity=line.mass_g,
        unit=_GRAM,
        part=part,
        doubts=tuple(_doubts(line.ingredient, match, book)),
    )


def _doubts(named: NamedIngredient, match: Match, book: IngredientBook) -> Iterator[doubts.Doubt]:
    known = book.get(match.key) if match.sureness is Sureness.EXACT else None
    if known is None:
        yield doubts.UnknownIngredient(named.name, match.candidates)
        return
    said, ours = named.hydration_percent, known.hydration_percent
    if said is not None and said != ours:
        yield doubts.OtherHydration(said, ours)
    fed = book.fed(known.key)
    if named.flours and _shares(named.flours, book) != _shares(fed, book):
        yield doubts.OtherFlours(_in_words(named.flours), _in_words(fed))


def _shares(flours: Sequence[NamedFlour], book: IngredientBook) -> dict[str, Decimal]:
    """The percent of each flour, by the book's key where it has one."""
    shares: dict[str, Decimal] = {}
    for flour in flours:
        known = book.get(flour.key) or book.named(flour.name)
        shares[known.key if known else flour.name] = flour.percent.normalize()
    return shares


def _in_words(flours: Sequence[NamedFlour]) -> tuple[str, ...]:
    return tuple(f"{plain(flour.percent)} % {flour.name}" for flour in flours)


def _match(ingredient: NamedIngredient, book: IngredientBook) -> Match:
    if ingredient.key and book.get(ingredient.key):
        return Match(ingredient.key, Sureness.EXACT, (ingredient.key,))
    return Match("", Sureness.NONE, book.fit(stems(ingredient.name)).match.candidates)

"""What a person's own paper and station cards say if a recipe contains what they told us.

On the person's own paper it is at the top, and beside each line and step. A station card names
nobody and repeats nobody's words.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace

from classes.core.diets.conflict_words import (
    as_sentence,
    conflict_words,
    decided_by,
    decided_words,
    found_words,
    people_words,
)
from classes.core.diets.conflicts import Concerns, Conflict, Way
from classes.core.diets.findings import DUSTING, Occurrence
from classes.core.diets.heeds import MARK, line_words, short_words
from handouts.recipe_card import RecipeCard, RecipePart, RecipeStep
from handouts.safety.values import CardHeed
from handouts.station_tables import StationPart, StationRecipe, StationRow, StationTable

Lines = Mapping[tuple[str, str], str]
"""Words beside a line, by the name of its part and the key of its ingredient."""

# Marks that change the direction of writing: in a sentence with several names, one of them would
# reverse the rest.
TURNS = dict.fromkeys([*range(0x202A, 0x202F), *range(0x2066, 0x206A)])


# Beside the lines and steps of somebody's own recipe


def with_marks(card: RecipeCard, revision: str, person: Concerns | None) -> RecipeCard:
    """A recipe card with a mark on each line and step that concerns the person."""
    conflict = next((found for found in _conflicts(person) if found.revision == revision), None)
    if conflict is None:
        return card
    lines = {
        (place.component, place.ingredient_key): line_words(conflict, place)
        for place in conflict.left
    }
    dusting = next((words for (part, _), words in lines.items() if part == DUSTING), "")
    return replace(
        card,
        parts=tuple(_marked_part(part, lines) for part in card.parts),
        steps=tuple(_marked_steps(card.steps, conflict)),
        dusting_concern=dusting,
    )


def _conflicts(person: Concerns | None) -> tuple[Conflict, ...]:
    return person.conflicts if person else ()


def _marked_part(part: RecipePart, lines: Lines) -> RecipePart:
    name = part.amounts.name
    marked = (
        replace(line, concern=lines.get((name, line.amount.ingredient.key), ""))
        for line in part.lines
    )
    concern = part_words(name, lines) if part.amounts.kind.made_in_bulk else ""
    return replace(part, lines=tuple(marked), concern=concern)


def _marked_steps(steps: Sequence[RecipeStep], conflict: Conflict) -> Iterator[RecipeStep]:
    for number, step in enumerate(steps, start=1):
        words = [
            _step_words(conflict, place)
            for place in conflict.places
            if number in {found.number for found in place.steps}
        ]
        yield replace(step, concern="; ".join(dict.fromkeys(words)))


def _step_words(conflict: Conflict, place: Occurrence) -> str:
    is_out = conflict.decided is not None and conflict.decided.way is Way.TAKEN_OUT
    if is_out:
        return f"{MARK} {place.ingredient}: taken out for you, leave it out here"
    words = line_words(conflict, place).removeprefix(f"{MARK} ")
    return f"{MARK} {place.ingredient}, {words}"


# On a station's card


NEAR = "Theirs is another bread: keep these tubs, tools and hands off it, and wash in between."
UNDECIDED = "Not decided: they speak with the instructor before it is handled or eaten."


def card_heeds(people: Iterable[Concerns], station: str, taught: str) -> tuple[CardHeed, ...]:
    """The boxes of the card of a recipe at a station, undecided ones first."""
    boxes: dict[tuple[str, ...], Counter[tuple[str, bool]]] = {}
    for person in people:
        if person.eater.station == station:
            for words, then, is_open in _boxes(person, taught):
                boxes.setdefault(words, Counter())[then, is_open] += 1
    found = [_card_heed(words, counted) for words, counted in boxes.items()]
    return tuple(sorted(found, key=lambda box: not box.is_open))


def _card_heed(words: tuple[str, ...], counted: Counter[tuple[str, bool]]) -> CardHeed:
    notes = sorted(counted.items(), key=lambda note: not note[0][1])
    return CardHeed(
        words=tuple(map(as_sentence, words)),
        notes=tuple(
            f"{people_words(count)} here must not eat it. {then}" for (then, _), count in notes
        ),
        is_open=any(is_open for _, is_open in counted),
    )


def _boxes(person: Concerns, taught: str) -> Iterator[tuple[tuple[str, ...], str, bool]]:
    for conflict in person.conflicts:
        if left := tuple(place for place in conflict.left if place.taught == taught):
            then = UNDECIDED if conflict.is_open else f"Decided: {_decided_on_wall(conflict)}."
            yield found_words(left, on_wall=True), then, conflict.is_open
    if near := tuple(place for place in person.near if place.taught == taught):
        yield found_words(near, on_wall=True), NEAR, False


def _decided_on_wall(conflict: Conflict) -> str:
    words = {
        Way.TAKEN_OUT: "it is left out for them, by hand",
        Way.TALKED_OVER: "talked over with the instructor",
    }
    return words.get(conflict.decided.way, "ask the instructor") if conflict.decided else ""


def conflicts_in_words(person: Concerns) -> tuple[str, ...]:
    """Somebody's conflicts, each with what was decided: for the staff."""
    return tuple(
        f"{conflict.label}: {'; '.join(conflict_words(conflict))}. {_decided(conflict)}".translate(
            TURNS
        )
        for conflict in person.conflicts
    )


def _decided(conflict: Conflict) -> str:
    if conflict.decided is None:
        return "NOT DECIDED: ask before it is handled or eaten."
    note = f" “{conflict.decided.note}”" if conflict.decided.note else ""
    return f"Decided: {decided_words(conflict)} ({decided_by(conflict)}).{note}"


def on_station(
    recipe: StationRecipe, station: str, people: Iterable[Concerns], *, on_wall: bool
) -> StationRecipe:
    """A recipe at a station with a mark on each row that concerns somebody there."""
    shown = lines_at(station, recipe.taught, people, on_wall=on_wall)
    if not shown:
        return recipe
    return replace(recipe, tables=tuple(_marked_table(table, shown) for table in recipe.tables))


def lines_at(station: str, taught: str, people: Iterable[Concerns], *, on_wall: bool) -> Lines:
    """The words beside the lines of a recipe that concern somebody at a station."""
    lines: dict[tuple[str, str], list[str]] = {}
    here = (person for person in people if person.eater.station == station)
    for person in here:
        for conflict in person.conflicts:
            for place in conflict.left:
                if place.taught == taught:
                    words = _row_words(conflict, place, on_wall=on_wall)
                    lines.setdefault((place.component, place.ingredient_key), []).append(words)
    return {key: "; ".join(dict.fromkeys(words)) for key, words in lines.items()}


def _row_words(conflict: Conflict, place: Occurrence, *, on_wall: bool) -> str:
    if on_wall:
        return f"{MARK} {short_words(place, on_wall=True)}"
    return f"{line_words(conflict, place)}: {conflict.eater.name[:30]}".translate(TURNS)


def _marked_table(table: StationTable, lines: Lines) -> StationTable:
    return replace(
        table,
        parts=tuple(_marked_rows(part, lines) for part in table.parts),
        tubs=tuple(replace(tub, concern=part_words(tub.name, lines)) for tub in table.tubs),
    )


def part_words(name: str, lines: Lines) -> str:
    """The words for a part that comes from a tub: those of all that is in it."""
    return "; ".join(dict.fromkeys(words for (part, _), words in lines.items() if part == name))


def _marked_rows(part: StationPart, lines: Lines) -> StationPart:
    def marked(row: StationRow) -> StationRow:
        return replace(row, concern=lines.get((part.name, row.each[0].ingredient.key), ""))

    return replace(part, rows=tuple(map(marked, part.rows)))

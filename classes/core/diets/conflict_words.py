"""A conflict in words, the same on every page and paper. The words promise nothing.

What hangs on a wall names allergens and ingredients, but no person, and quotes nobody's own words.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence

from classes.core.diets.conflicts import Conflict, Way
from classes.core.diets.findings import Occurrence, Reason

OWN_WORDS = "holds something that somebody here must not eat: ask the instructor"
UNREAD = "cannot say: what was told cannot be looked up in it"
NOTHING_FOUND = "nothing that is entered matches what was told; that promises nothing"
IN_PRIVATE = "cannot say: it is to be told in private"

MOST_ON_WALL = 3
LONGEST_ON_WALL = 40

WAYS = {
    Way.VARIANT: "a variant is baked",
    Way.OTHER_TASK: "another task, this recipe is not baked",
    Way.TAKEN_OUT: "taken out",
    Way.TALKED_OVER: "talked over",
}


def found_words(places: Iterable[Occurrence], *, on_wall: bool = False) -> tuple[str, ...]:
    """What a recipe contains, such as `holds sesame: Sesame seeds (Seed topping, step 3)`."""
    grouped: dict[tuple[Reason, str], list[str]] = {}
    for place in places:
        because = "" if on_wall and place.reason is Reason.NAMED else place.because
        grouped.setdefault((place.reason, because), []).append(_where(place, on_wall))
    return tuple(
        f"{_head(reason, because)}{_listed(at, on_wall)}"
        if because or reason is Reason.UNKNOWN
        else OWN_WORDS
        for (reason, because), at in grouped.items()
    )


def _listed(at: list[str], on_wall: bool) -> str:
    more = len(at) - MOST_ON_WALL
    if not on_wall or more <= 0:
        return "; ".join(at)
    return f"{'; '.join(at[:MOST_ON_WALL])}; {more} more, marked ✗"


def _where(place: Occurrence, on_wall: bool) -> str:
    """Like `where_words`, but on a wall long names are cut and packs are not quoted."""
    if not on_wall:
        return where_words(place)
    name, part = (_cut(text) for text in (place.ingredient, place.component))
    return f"{name} ({part}{steps_words(place)})"


def _cut(text: str) -> str:
    return text if len(text) <= LONGEST_ON_WALL else f"{text[: LONGEST_ON_WALL - 1].rstrip()}…"


def _head(reason: Reason, because: str) -> str:
    if reason is Reason.UNKNOWN:
        return "cannot say: nothing is entered for "
    return f"{'may hold' if reason is Reason.TRACES else 'holds'} {because}: "


def where_words(place: Occurrence) -> str:
    """Such as `Sesame seeds (Seed topping, step 3)`, with the pack's words about traces."""
    pack = f"; its pack reads “{place.traces}”" if place.traces else ""
    return f"{place.ingredient} ({place.component}{steps_words(place)}{pack})"


def steps_words(place: Occurrence) -> str:
    """Such as `, steps 3 and 5`; empty if no step is known."""
    numbers = [str(step.number) for step in place.steps]
    if not numbers:
        return ""
    noun = "step" if len(numbers) == 1 else "steps"
    listed = numbers[0] if len(numbers) == 1 else f"{', '.join(numbers[:-1])} and {numbers[-1]}"
    return f", {noun} {listed}"


def as_sentence(words: str) -> str:
    """The words as a sentence about this recipe."""
    if words.startswith(("holds ", "may hold ")):
        return f"This recipe {words}."
    return f"{words[:1].upper()}{words[1:]}."


def conflict_words(conflict: Conflict, *, on_wall: bool = False) -> tuple[str, ...]:
    """What is known of the recipe for the person; at least one sentence."""
    found = found_words(conflict.places, on_wall=on_wall)
    if conflict.eater.private:
        return (*found, IN_PRIVATE)
    if found:
        return found
    is_variant = conflict.decided is not None and conflict.decided.way is Way.VARIANT
    return (NOTHING_FOUND if is_variant else UNREAD,)


def decided_words(conflict: Conflict) -> str:
    """What was decided, such as `taken out: Sesame seeds`; empty if nothing was."""
    if conflict.decided is None:
        return ""
    way = conflict.decided.way
    if way is Way.VARIANT:
        return f"the variant is baked: {conflict.label}"
    if way is not Way.TAKEN_OUT:
        return WAYS[way]
    left = names_of(conflict.left)
    gone = [name for name in names_of(conflict.places) if name not in left]
    words = [f"taken out: {', '.join(gone)}"] if gone else []
    if left:
        words.append(f"to be left out by hand, the grams still count it: {', '.join(left)}")
    return "; ".join(words)


def names_of(places: Sequence[Occurrence]) -> list[str]:
    """The ingredients of these places, each once."""
    return list(dict.fromkeys(place.ingredient for place in places))


def decided_by(conflict: Conflict) -> str:
    """Who decided and when, such as `ines, 3 May, 10:00`."""
    decided = conflict.decided
    return f"{decided.by}, {decided.when}" if decided else ""


def lines_for_staff(conflicts: Iterable[Conflict]) -> tuple[str, ...]:
    """What must be decided, and for how many people where, without names or their own words."""
    counted: Counter[tuple[str, str, str]] = Counter()
    for conflict in conflicts:
        counted[
            conflict.label,
            "; ".join(conflict_words(conflict, on_wall=True)),
            conflict.eater.station,
        ] += 1
    return tuple(
        f"{label}: {words}. For {people_words(count)}{f' at {station}' if station else ''}."
        for (label, words, station), count in counted.items()
    )


def people_words(count: int) -> str:
    """Such as `1 person` or `2 people`."""
    return "1 person" if count == 1 else f"{count} people"

"""A recipe that was read, as rows of the recipe form that carry their original text and doubts.

A row's `source` is the text it was read from, its `span` where that stands in the `original`, and
its `doubts` a JSON object from field names to the proposed value and the sentences about it: a
doubt is settled as soon as the value changes, or somebody confirms it. All travel in hidden fields,
so a review keeps no state on the server.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from decimal import ROUND_HALF_UP, Decimal
from itertools import zip_longest
from typing import Any

from recipes.core.choices import IngredientKind
from recipes.core.errors import BakingError
from recipes.core.reading import read_quantity
from recipes.core.regions import HomeRegion, unlike_local
from recipes.core.units import parse_unit, to_grams
from recipes.core.written import WrittenPart, WrittenStep, values_of
from recipes.editing.lines import MASS_PLACES
from recipes.editing.rows import FormRow, PartRow, RecipeRows
from recipes.importing.doubts import Doubt, TextCut
from recipes.importing.text.matching import IngredientBook
from recipes.importing.values import PIECE_PLACES, KnownIngredient, Reading, ReadLine
from recipes.importing.whole.doubts import YieldAndLines
from recipes.review.doubt_words import Names, told
from recipes.review.marked import Span, Spans, span_text, spans_of, unread_in
from wording.figures import plain

LONGEST_SOURCE = 600
LONGEST_NOTE = 120
LONGEST_INGREDIENT = 100
LONGEST_PART_NAME = 60
USUAL_PIECE_NAME = "loaf"
LONGEST_CARRIED = 20_000
LONGEST_SENTENCE = 300
# Of one field, and of the whole recipe.
MOST_TOLD, MOST_WHOLE = 5, 30
GUESS, NOT_YET = "A guess: ", "It could not be worked out yet: fill in the amounts first."

Doubts = dict[str, tuple[str, list[str]]]


@dataclass(frozen=True, slots=True)
class LeftText:
    """A text that is in no row, the reason if known, and where it is."""

    text: str
    why: str = ""
    span: str = ""


@dataclass
class ReviewSheet:
    """The rows of a review, and the texts that went into none of them.

    `original` is the text that was read, `head_spans` where its head and headings are in it, `mark`
    identifies the import, and `agreed` are the figures that somebody confirmed.
    """

    rows: RecipeRows
    left: list[LeftText] = field(default_factory=list)
    original: str = ""
    head_spans: str = ""
    mark: str = ""
    agreed: tuple[str, ...] = ()


def sheet_of(read: Reading, book: IngredientBook, labels: Mapping[str, str]) -> ReviewSheet:
    """The first review of a read recipe; `labels` names ingredients by key."""
    written = read.written
    names = Names(labels, tuple(part.name for part in written.parts))
    spans = spans_of(read)
    steps = zip_longest(written.steps, read.step_doubts, spans.steps)
    rows = RecipeRows(
        head=_head(read, names),
        parts=[_part(read, n, part, book, names, spans) for n, part in enumerate(written.parts)],
        steps=[_step(f"step-{n}", *step, names) for n, step in enumerate(steps)],
    )
    rows.parts = [part for part in rows.parts if part.lines]
    if not rows.parts:
        rows.parts = [PartRow("part-0", {"kind": "dough", "name": "Dough"}, [FormRow("line-0")])]
    left = [
        LeftText(rest.text, told(rest.doubt, names)[1] if rest.doubt else "", span_text(span))
        for rest, span in zip(read.left_over, spans.left, strict=True)
    ]
    cut = [doubt.rest for doubt in read.doubts if isinstance(doubt, TextCut)]
    left += [LeftText(text, "It was too long for its field.") for text in cut]
    held = [*spans.lines, *spans.steps, *spans.left, *spans.head]
    left += [
        LeftText(text, "It is in no line and no step.", span_text(span))
        for text, span in unread_in(read.source, held)
    ]
    return ReviewSheet(rows, left, read.source, " ".join(map(span_text, spans.head)))


def line_values(
    line: ReadLine, book: IngredientBook, names: Names, span: Span | None = None
) -> dict[str, Any]:
    """What a row shows of a line that was read."""
    written = line.written
    known = book.get(line.match.key) if line.match.key else None
    amount, unit, more = _amount(line, known, book.region)
    label = names.ingredients.get(line.match.key, "")
    values: dict[str, Any] = {
        "amount": amount,
        "unit": unit,
        "ingredient": label or written.ingredient.name[:LONGEST_INGREDIENT],
        "note": written.note[:LONGEST_NOTE],
        "source": line.text[:LONGEST_SOURCE],
        "span": span_text(span),
    }
    kind = written.ingredient.kind
    if not line.match.key and kind is not IngredientKind.OTHER:
        values["new_kind"] = kind
    pairs = [told(doubt, names) for doubt in line.doubts]
    if line.percent is not None and written.mass_g is None:
        pairs.append(("amount", f"{plain(line.percent)} % of the flour is written: work it out."))
    values["doubts"] = carried(values, [*pairs, *more])
    return values


def _amount(
    line: ReadLine, known: KnownIngredient | None, region: HomeRegion | None
) -> tuple[str, str, list[Any]]:
    """Amount and unit as the form would read them to the same grams, and doubts about them."""
    entered = line.written.entered
    if line.written.mass_g is None:
        return _as_read(line)
    grams = line.written.mass_g.quantize(MASS_PLACES, ROUND_HALF_UP)
    if not entered:
        return plain(grams), "g", []
    try:
        quantity = read_quantity(entered)
        unit = parse_unit(quantity.word)
        again = to_grams(
            quantity.number,
            unit,
            density_g_per_ml=known.density_g_per_ml if known else None,
            each_g=known.each_g if known else None,
        ).quantize(MASS_PLACES, ROUND_HALF_UP)
    except BakingError:
        again = None
    if again == grams and (said := unlike_local(unit, region)):
        return quantity.typed, said.name, []
    kept = f"It was written as {entered}; the grams it came to there are kept."
    return plain(grams), "g", [("amount", kept)]


def _as_read(line: ReadLine) -> tuple[str, str, list[Any]]:
    if line.quantity is None:
        return "", "", []
    unit = line.unit.name if line.unit else ""
    return plain(round(line.quantity, 4)), unit, []


def _part(
    read: Reading, n: int, part: WrittenPart, book: IngredientBook, names: Names, spans: Spans
) -> PartRow:
    values = values_of(part) | {
        "name": part.name[:LONGEST_PART_NAME],
        "for_pieces": "",
        "cooking_loss_percent": plain(part.cooking_loss_percent),
    }
    if not part.kind.goes_into_dough:
        values["for_pieces"] = str(part.for_pieces or read.written.pieces or 1)
    pairs = [told(doubt, names) for doubt in read.doubts if getattr(doubt, "part", None) == n]
    values["doubts"] = carried(values, pairs)
    lines = [
        line_values(line, book, names, span)
        for line, span in zip(read.lines, spans.lines, strict=True)
        if line.part == n
    ]
    rows = [FormRow(f"line-{m}", values) for m, values in enumerate(lines)]
    return PartRow(f"part-{n}", values, rows)


def _step(
    key: str, step: WrittenStep, doubts: Iterable[Doubt], span: Span | None, names: Names
) -> FormRow:
    values = values_of(step) | {
        "hands_on_min": str(step.hands_on_min or ""),
        "waiting_min": str(step.waiting_min or ""),
        "temperature_c": _tenth(step.temperature_c),
        "span": span_text(span),
    }
    pairs = [
        (_timed(told(doubt, names)[0], doubt, step), told(doubt, names)[1]) for doubt in doubts
    ]
    values["doubts"] = carried(values, pairs)
    return FormRow(key, values)


def _timed(name: str, doubt: Doubt, step: WrittenStep) -> str:
    """Which of a step's two times a doubt about time concerns."""
    if name != "time":
        return name
    taken = getattr(doubt, "taken", None)
    hands = step.hands_on_min and (taken == step.hands_on_min or not step.waiting_min)
    return "hands_on_min" if hands else "waiting_min"


def _tenth(value: Decimal | None) -> str:
    return "" if value is None else plain(value.quantize(PIECE_PLACES, ROUND_HALF_UP))


def _head(read: Reading, names: Names) -> dict[str, Any]:
    written = read.written
    values = values_of(written) | {
        "piece_name": written.piece_name or USUAL_PIECE_NAME,
        "pieces": str(written.pieces or 1),
        "piece_g": _tenth(read.piece_g),
        "bake_loss_percent": plain(written.bake_loss_percent or Decimal(0)),
        "dough_temperature_c": _tenth(written.dough_temperature_c),
        "core_temperature_c": _tenth(written.core_temperature_c),
    }
    # Pieces compared with lines are a figure, which asks as long as they differ.
    whole = [doubt for doubt in read.doubts if not isinstance(doubt, YieldAndLines)]
    pairs = [told(doubt, names) for doubt in whole if not hasattr(doubt, "part")]
    values["doubts"] = carried(values, [*pairs, *_guesses(read)])
    return values


def _guesses(read: Reading) -> Iterator[tuple[str, str]]:
    written = read.written
    if not written.piece_name:
        yield "piece_name", "A guess: the text does not say."
    if written.piece_g is None:
        complete = all(line.is_complete for line in read.lines)
        yield "piece_g", piece_guess(read.dough_g, complete=complete)


def is_guess(sentences: Iterable[str]) -> bool:
    """Whether a piece's mass was worked out, not written by anybody."""
    return any(sentence == NOT_YET or sentence.startswith(GUESS) for sentence in sentences)


def piece_guess(dough: Decimal, *, complete: bool) -> str:
    """The sentence beside a piece's mass that was worked out from the dough."""
    if not dough:
        return NOT_YET
    missing = "" if complete else " Lines without grams are not in it yet."
    total = plain(dough.quantize(PIECE_PLACES, ROUND_HALF_UP))
    return f"{GUESS}{total} g of dough over the pieces.{missing}"


def carried(values: Mapping[str, Any], pairs: list[tuple[str, str]]) -> str:
    """Doubts as the hidden field holds them; empty for none."""
    found: Doubts = {}
    for name, sentence in dict.fromkeys(pairs):
        sentences = found.setdefault(name, (str(values.get(name) or ""), []))[1]
        if len(sentences) < _most(name):
            sentences.append(sentence[:LONGEST_SENTENCE])
    return json.dumps(found, ensure_ascii=False) if found else ""


def _most(name: str) -> int:
    return MOST_TOLD if name else MOST_WHOLE


def without(doubts: str, names: Iterable[str]) -> str:
    """Carried doubts except those about some fields, which somebody confirmed."""
    try:
        found = json.loads(doubts or "{}")
        kept = {name: said for name, said in found.items() if name not in set(names)}
    except (ValueError, AttributeError, RecursionError):
        return ""
    return json.dumps(kept, ensure_ascii=False) if kept else ""


def live_doubts(values: Mapping[str, Any]) -> dict[str, list[str]]:
    """Sentences by field name, as long as the fields still have the proposed value.

    Anything not in the shape that `carried` writes counts as no doubts.
    """
    text = values.get("doubts") or ""
    if not text or len(text) > LONGEST_CARRIED:
        return {}
    try:
        found = json.loads(text)
        listed = [
            (str(name), _flat(value), [str(sentence)[:LONGEST_SENTENCE] for sentence in sentences])
            for name, (value, sentences) in found.items()
        ]
    except (ValueError, TypeError, AttributeError, RecursionError):
        return {}
    return {
        name: sentences[: _most(name)]
        for name, value, sentences in listed
        if value == _flat(values.get(name))
    }


def _flat(value: object) -> str:
    return " ".join(str(value or "").split())

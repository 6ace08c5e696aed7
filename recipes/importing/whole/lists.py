"""Lines of a list put into their parts, also if one line has several."""

from __future__ import annotations

import re

from recipes.core.choices import ComponentKind, IngredientKind
from recipes.core.written import WrittenPart
from recipes.importing.doubts import Doubt
from recipes.importing.method.sentences import sentences
from recipes.importing.tables.bare import bare_row
from recipes.importing.tables.rows import labelled, labelled_step, rows_of
from recipes.importing.text.headings import (
    LONGEST_PART_NAME,
    Heading,
    Section,
    kind_named,
    read_heading,
)
from recipes.importing.text.lines import read_line
from recipes.importing.text.several import lines_in
from recipes.importing.text.shapes import is_numbers, is_table_head
from recipes.importing.text.tokens import line_text
from recipes.importing.whole import doubts
from recipes.importing.whole.asides import is_only_timed, is_work
from recipes.importing.whole.corrections import corrected
from recipes.importing.whole.looks import is_short_label, starts_method, without_number
from recipes.importing.whole.progress import MADE_AHEAD, WHOLE_DOUGH, Progress
from recipes.importing.whole.prose import is_listed, listed, preferment_in

_GLAZE = WrittenPart(ComponentKind.WASH, "Glaze")
_TOPPING = WrittenPart(ComponentKind.TOPPING, "Topping")
_BATH = WrittenPart(ComponentKind.WASH, "Bath")
_OUTSIDE = {
    **dict.fromkeys(("glaze", "glazing", "brush", "brushing", "finish", "egg wash", "wash"),
                    _GLAZE),
    **dict.fromkeys(("boiling", "poaching", "lye", "bath", "dipping"), _BATH),
    **dict.fromkeys(("top", "topping", "tops", "sprinkle", "sprinkling", "scatter", "scattering",
                     "dust", "dusting", "decorate", "decoration", "crust", "coating"), _TOPPING),
}  # fmt: skip
_GOES_OUTSIDE = re.compile(
    rf"(?:\b(?:to|for)(?: the| some)? |[(,] ?|- )(?P<where>{'|'.join(_OUTSIDE)})\b|\bon top\b",
    re.IGNORECASE,
)
_GROUPS = {"flour", "flours", "seeds", "grains", "sugars", "liquid", "liquids", "spices", "fats"}
_BESIDES = re.compile(r"\b(?:plus|extra|more|some|little|dough|half)\b", re.IGNORECASE)
_STREWN = {IngredientKind.SEED, IngredientKind.NUT}
_TOTAL = re.compile(r"(?:total|totals|sum)(?: (?:weight|mass|dough|flour))?\W*[0-9]", re.IGNORECASE)
_TAKES_PART = re.compile(r"^\W*all (?:of )?(?:the )?", re.IGNORECASE)


def take_ingredient(reading: Progress, line: str) -> None:
    """A line among ingredients: one or several of them, or the first of the method."""
    if is_table_head(line) or is_numbers(line):
        reading.leave(line)
        return
    if _TOTAL.match(line_text(line)):
        total = read_line(line, reading.book)
        if said_g := total.written.mass_g or total.quantity:
            reading.totals.append((reading.part_number(), said_g))
        reading.use()
        return
    if reading.part.kind in MADE_AHEAD and is_only_timed(line):
        reading.say(labelled_step(Heading(reading.part.name, kind=reading.part.kind), line))
        return
    if starts_method(reading, line):
        reading.section = Section.METHOD
        reading.say(without_number(line))
        return
    if work := _work_behind(reading, line):
        take_ingredient(reading, line_text(line)[: -len(work)])
        reading.say(work)
        return
    if _begins_dough(reading):
        reading.open(WHOLE_DOUGH, guessed=True)
    line, dropped = corrected(line)
    told: list[Doubt] = [doubts.Corrected(dropped)] if dropped else []
    if is_listed(line) and not labelled(line, reading.book):
        _take_listed(reading, line)
        return
    part = _part_of(reading, line)
    if bare := bare_row(line):
        reading.add(bare, part, told, line)
    elif rows := labelled(line, reading.book):
        if _opens_unknown(reading, line):
            told.append(doubts.PartGuessed())
        for row in rows:
            reading.add(row.text, part, told, row.shown)
    else:
        for text in lines_in(line, reading.book):
            reading.add(text, part, told)


def _opens_unknown(reading: Progress, line: str) -> bool:
    """Whether a label before a row of ingredients names neither a group of them nor the dough."""
    name, colon, rest = line_text(line).lower().partition(":")
    known = kind_named(name.split()) is ComponentKind.DOUGH or name in _GROUPS
    return bool(colon) and not (known or ":" in rest or read_heading(name))


def _work_behind(reading: Progress, line: str) -> str:
    """The sentences of work behind those of an ingredient: `1 tsp sugar. Let sit 5 min.`"""
    text = line_text(line)
    first = next(sentences(text), "")
    behind = text[len(first) :].strip()
    named = first[:1].isdigit() and reading.book.named_in(first)
    return behind if behind and named and not is_listed(line) and is_work(behind) else ""


def _part_of(reading: Progress, line: str) -> int:
    """The number of a line's part, which is none of the dough's if it says that it goes on top."""
    found = _GOES_OUTSIDE.search(line) if reading.part.kind.goes_into_dough else None
    if found and not _BESIDES.search(line):
        reading.outside = _OUTSIDE[(found["where"] or "top").lower()]
        return reading.named_part(reading.outside)
    if reading.part.kind is ComponentKind.DOUGH and (name := preferment_in(line)):
        return reading.named_part(WrittenPart(ComponentKind.PREFERMENT, name))
    before, reading.outside = reading.outside, None
    known = (reading.book.get(key) for key in reading.book.named_in(line_text(line))[:1])
    if before is _GLAZE and any(one and one.kind in _STREWN for one in known):
        return reading.named_part(before)
    return reading.part_number()


def _begins_dough(reading: Progress) -> bool:
    """Whether lines set apart from those of a part made ahead are of the dough itself."""
    doughs = any(part.kind is ComponentKind.DOUGH for part in reading.parts)
    opened = reading.number is not None and reading.part.kind in MADE_AHEAD
    if not opened or not reading.set_apart or doughs:
        return False
    own = (line.place for line in reading.lines if line.part == reading.number)
    *_, before, last = (reading.opened_at, *filter(None, own))
    return last.first - before.last <= 1


def _take_listed(reading: Progress, line: str) -> None:
    """Ingredients separated by commas, and the work that follows them."""
    if _TAKES_PART.match(line) and reading.part.kind is not ComponentKind.DOUGH:
        reading.open(WHOLE_DOUGH)
    texts, rest = listed(line)
    part = _part_of(reading, "") if not preferment_in(line) else _part_of(reading, line)
    for text in texts:
        reading.add(text, part)
    if rest:
        reading.section = Section.METHOD
        reading.say(rest)


def take_rest(reading: Progress, heading: Heading) -> None:
    """What follows a part's heading on its line: ingredients, and then a step."""
    found, rest = rows_of(heading.rest)
    part = reading.part_number() if found else 0
    for row in found:
        reading.add(row.text, part, (), row.shown)
    if found and not heading.rest.rstrip().endswith(","):
        reading.close()
    if not rest:
        return
    if is_work(rest):
        reading.say(labelled_step(heading, rest))
    elif found:
        reading.leave(rest)
    else:
        take_ingredient(reading, rest)


def reopen(reading: Progress) -> None:
    """Continue with ingredients after a piece of method, under what may be their heading."""
    reading.section = Section.INGREDIENTS
    last = reading.method[-1] if reading.method else None
    if last and is_short_label(last.text):
        reading.method.pop()
        kind = kind_named(last.text.lower().split())
        name = line_text(last.text).strip(" :~-")[:LONGEST_PART_NAME]
        reading.open(WrittenPart(kind or ComponentKind.DOUGH, name), guessed=not kind)
    elif reading.part.kind is not ComponentKind.DOUGH:
        reading.open(WHOLE_DOUGH, guessed=True)
    else:
        reading.guessed = True

"""A whole pasted recipe: title, ingredient lines in their parts, method, notes."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace

from recipes.core.choices import ComponentKind
from recipes.core.written import WrittenPart, WrittenRecipe
from recipes.importing import doubts
from recipes.importing.doubts import Doubt
from recipes.importing.errors import TooMuchText
from recipes.importing.method.sentences import sentences
from recipes.importing.method.steps import Method, placed, read_paragraph
from recipes.importing.method.verbs import STEP_VERBS
from recipes.importing.text.headings import Heading, Section, read_heading
from recipes.importing.text.lines import read_line
from recipes.importing.text.makes import Makes, read_makes, starts_yield
from recipes.importing.text.matching import IngredientBook, stems
from recipes.importing.text.several import lines_in
from recipes.importing.text.shapes import (
    continues,
    is_numbers,
    is_rule,
    is_stated_time,
    is_table_head,
    looks_like_ingredient,
    looks_like_method,
)
from recipes.importing.text.tokens import clean, line_text
from recipes.importing.values import LeftOver, Place, Reading, ReadLine

MOST_CHARACTERS = 60_000
MOST_LINES = 400
LONGEST_TITLE = 100
LONGEST_SUMMARY = 300
LONGEST_NOTE = 2000
LONGEST_EQUIPMENT = 2000
_WHOLE_DOUGH = WrittenPart(ComponentKind.DOUGH, "Dough")
_REFERRED_TO = (ComponentKind.PREFERMENT, ComponentKind.ROUX, ComponentKind.SOAKER)


@dataclass
class _Progress:
    """What has been read of a text, and where in it the reader stands."""

    book: IngredientBook
    section: Section = Section.HEAD
    title: str = ""
    summary: list[str] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)
    equipment: list[str] = field(default_factory=list)
    left_over: list[LeftOver] = field(default_factory=list)
    head_places: list[Place] = field(default_factory=list)
    part: WrittenPart = _WHOLE_DOUGH
    part_opened: bool = False
    parts: list[WrittenPart] = field(default_factory=list)
    lines: list[ReadLine] = field(default_factory=list)
    method: Method = field(default_factory=Method)
    makes: Makes = field(default_factory=Makes)


def read_text(text: str, book: IngredientBook) -> Reading:
    """Read a pasted recipe. Raises TooMuchText; all else comes back as doubts."""
    if len(text) > MOST_CHARACTERS:
        raise TooMuchText("characters", len(text), MOST_CHARACTERS)
    lines = text.splitlines()
    if len(lines) > MOST_LINES:
        raise TooMuchText("lines", len(lines), MOST_LINES)
    reading = _Progress(book)
    paragraphs = list(_paragraphs(lines))
    for n, (place, paragraph) in enumerate(paragraphs):
        following = paragraphs[n + 1][1] if n + 1 < len(paragraphs) else ""
        lines_before, left_before = len(reading.lines), len(reading.left_over)
        _take(reading, paragraph, following)
        _place(reading, place, lines_before, left_before)
    return replace(_result(reading), source="\n".join(lines))


def _place(reading: _Progress, place: Place, lines_before: int, left_before: int) -> None:
    """Say where what has just been read stands."""
    lines, left = reading.lines[lines_before:], reading.left_over[left_before:]
    reading.lines[lines_before:] = [replace(line, place=place) for line in lines]
    reading.left_over[left_before:] = [replace(rest, place=place) for rest in left]
    if not placed(reading.method, place) and not lines and not left:
        reading.head_places.append(place)


def _paragraphs(lines: list[str]) -> Iterator[tuple[Place, str]]:
    """The lines that say something; a sentence broken by its page's width is joined again."""
    current, first = "", 0
    for n, line in enumerate(lines, start=1):
        line = line.replace("\0", " ")
        if current and continues(current, line):
            current = f"{current.rstrip()} {line.strip()}"
            continue
        if current:
            yield Place(first, n - 1), current
        current, first = line if line.strip() and not is_rule(line) else "", n
    if current:
        yield Place(first, len(lines)), current


def _take(reading: _Progress, line: str, following: str) -> None:
    heading = read_heading(line)
    if heading and _take_heading(reading, heading, line, following):
        return
    if reading.section in (Section.HEAD, Section.INGREDIENTS) and _take_facts(reading, line):
        return
    _TAKERS[reading.section](reading, line)


def _take_heading(reading: _Progress, heading: Heading, line: str, following: str) -> bool:
    """Open a section or a part; False when the line is something else in its place."""
    first = reading.section is Section.HEAD and not reading.title
    if first and _is_title(reading, heading, line, following):
        return False
    if heading.section:
        reading.section = heading.section
    elif reading.section is not Section.METHOD or _is_ingredient(reading, following):
        if not heading.sure and reading.section is not Section.INGREDIENTS:
            return False
        reading.section = Section.INGREDIENTS
    if heading.kind and reading.section is Section.INGREDIENTS:
        reading.part = WrittenPart(heading.kind, heading.name)
        reading.part_opened = False
    if heading.rest:
        worked = reading.section is Section.METHOD and heading.name.lower() in STEP_VERBS
        _TAKERS[reading.section](reading, line if worked else heading.rest)
    return True


def _is_title(reading: _Progress, heading: Heading, line: str, following: str) -> bool:
    """Whether what looks like a heading is the recipe's name: `Focaccia`, but not `Poolish`."""
    if heading.section or (heading.sure and line.strip().endswith(":")):
        return False
    opens = heading.sure and heading.kind is not ComponentKind.DOUGH
    return not (opens and _is_ingredient(reading, following))


def _take_facts(reading: _Progress, line: str) -> bool:
    """A yield or a stated time, wherever it stands before the method."""
    if is_stated_time(line):
        return True
    if starts_yield(line):
        reading.makes = reading.makes if reading.makes.pieces else read_makes(line)
        return True
    return False


def _is_ingredient(reading: _Progress, line: str) -> bool:
    """Whether a line is an ingredient where none is expected: measured, or counted and known."""
    if looks_like_ingredient(line, strict=True):
        return True
    return looks_like_ingredient(line) and bool(reading.book.named_in(line_text(line)))


def _take_head(reading: _Progress, line: str) -> None:
    if is_table_head(line):
        _leave(reading, line)
    elif _is_ingredient(reading, line):
        reading.section = Section.INGREDIENTS
        _take_ingredient(reading, line)
    elif reading.title and looks_like_method(line):
        reading.section = Section.METHOD
        _take_method(reading, line)
    elif not reading.title and len(line.strip()) <= LONGEST_TITLE * 2:
        reading.title = line_text(line).strip(" :|")
    else:
        reading.summary.append(line_text(line))


def _take_ingredient(reading: _Progress, line: str) -> None:
    if is_table_head(line) or is_numbers(line):
        _leave(reading, line)
        return
    if looks_like_method(line):
        reading.section = Section.METHOD
        _take_method(reading, line)
        return
    if not reading.part_opened:
        reading.parts.append(reading.part)
        reading.part_opened = True
    part = len(reading.parts) - 1
    reading.lines += [read_line(text, reading.book, part) for text in lines_in(line, reading.book)]


def without_references(
    lines: Sequence[ReadLine], parts: Sequence[WrittenPart]
) -> tuple[list[ReadLine], list[LeftOver]]:
    """The lines but for those that only name another part, such as `all of the poolish`."""
    names = [set(stems(part.name)) if part.kind in _REFERRED_TO else set[str]() for part in parts]
    kept: list[ReadLine] = []
    left: list[LeftOver] = []
    for line in lines:
        words = set() if line.match.key else set(stems(line.written.ingredient.name))
        named = [n for n, stem in enumerate(names) if n != line.part and words & stem]
        if named:
            left.append(LeftOver(line.text, doubts.PartOfRecipe(named[0]), line.place))
        else:
            kept.append(line)
    return kept, left


def _take_method(reading: _Progress, line: str) -> None:
    if not reading.makes.pieces and "ake" in line[-60:]:
        *_, last = sentences(line[-60:])
        reading.makes = read_makes(last) if starts_yield(last) else reading.makes
    read_paragraph(reading.method, line)


def _take_equipment(reading: _Progress, line: str) -> None:
    reading.equipment.append(line_text(line))


def _take_note(reading: _Progress, line: str) -> None:
    reading.notes.append(line_text(line))


def _leave(reading: _Progress, line: str) -> None:
    if text := clean(line):
        reading.left_over.append(LeftOver(text))


_TAKERS = {
    Section.HEAD: _take_head,
    Section.INGREDIENTS: _take_ingredient,
    Section.METHOD: _take_method,
    Section.EQUIPMENT: _take_equipment,
    Section.NOTES: _take_note,
    Section.OTHER: _leave,
}


def cut(text: str, most: int, told: list[Doubt]) -> str:
    """A text shortened to `most` characters, with a doubt that holds the rest."""
    if len(text) > most:
        told.append(doubts.TextCut(text[most:].strip()))
    return text[:most].strip()


def _result(reading: _Progress) -> Reading:
    told: list[Doubt] = []
    summary, equipment = " ".join(reading.summary), "\n".join(reading.equipment)
    head = WrittenRecipe(
        title=cut(reading.title, LONGEST_TITLE, told),
        summary=cut(summary, LONGEST_SUMMARY, told),
        note=cut("\n".join(filter(None, reading.notes)), LONGEST_NOTE, told),
        equipment=cut(equipment, LONGEST_EQUIPMENT, told),
    )
    read = gathered(head, reading.makes, reading.parts, reading.lines, reading.method)
    found = (*reading.makes.doubts, *read.doubts, *told)
    left = (*read.left_over, *reading.left_over)
    return replace(read, left_over=left, doubts=found, head_places=tuple(reading.head_places))


def gathered(
    head: WrittenRecipe,
    makes: Makes,
    parts: Sequence[WrittenPart],
    lines: Sequence[ReadLine],
    method: Method,
) -> Reading:
    """All that was read as one reading. Raises TooMuchText for more than any recipe has."""
    for counted, found in (("ingredients", lines), ("steps", method.drafts)):
        if len(found) > MOST_LINES:
            raise TooMuchText(counted, len(found), MOST_LINES)
    kept, left = without_references(lines, parts)
    written = replace(
        head,
        piece_name=makes.piece_name,
        pieces=makes.pieces,
        piece_g=makes.piece_g,
        dough_temperature_c=method.dough_temperature_c,
        core_temperature_c=method.core_temperature_c,
        parts=tuple(
            replace(part, lines=tuple(line.written for line in kept if line.part == n))
            for n, part in enumerate(parts)
        ),
        steps=tuple(method.steps),
    )
    missing = {"ingredients": lines, "method": method.drafts}
    told = [doubts.NothingRead(what) for what, found in missing.items() if not found]
    guessed = [n for n, part in enumerate(parts) if not part.kind.goes_into_dough]
    return Reading(
        written,
        tuple(kept),
        tuple(method.doubts),
        tuple(left),
        (*told, *map(doubts.PiecesForPart, guessed)),
        step_places=tuple(method.places),
    )

"""A whole pasted recipe: title, ingredient lines in their parts, method, notes."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace

from recipes.core.choices import ComponentKind
from recipes.core.written import WrittenPart
from recipes.importing.errors import TooMuchText
from recipes.importing.tables.bare import bare_row, unit_for_all
from recipes.importing.tables.columns import Numbered, unfolded
from recipes.importing.tables.formulas import take_table
from recipes.importing.tables.reading import read_head
from recipes.importing.tables.rows import labelled_step, rows_of
from recipes.importing.tables.work import read_work, read_work_head
from recipes.importing.text.headings import (
    Heading,
    Section,
    is_day,
    read_heading,
)
from recipes.importing.text.makes import stated_makes
from recipes.importing.text.matching import IngredientBook
from recipes.importing.text.shapes import OPENING, continues, is_rule, is_table_head
from recipes.importing.text.tokens import line_text, tokenize
from recipes.importing.values import Place, Reading
from recipes.importing.whole.asides import is_bracketed, is_greeting, is_timed, is_web, is_work
from recipes.importing.whole.corrections import is_left_out
from recipes.importing.whole.ending import finished
from recipes.importing.whole.facts import is_facts, take_facts
from recipes.importing.whole.gathering import MOST_LINES
from recipes.importing.whole.headed import is_listed_next, is_name, is_title, label, names_again
from recipes.importing.whole.lists import reopen, take_ingredient, take_rest
from recipes.importing.whole.looks import (
    goes_on_listing,
    is_bare_row,
    is_list,
    is_method,
    without_number,
)
from recipes.importing.whole.net import unread
from recipes.importing.whole.progress import Progress, Said
from recipes.importing.whole.prose import in_figures, ingredients_in
from recipes.importing.whole.titles import is_occasion
from recipes.importing.whole.yields import stated_before, stated_behind

MOST_CHARACTERS = 60_000
_SUBJECT = re.compile(r"^(?:subject|re|fwd?|betreff)\s*:\s*(?P<title>.{3,100})$", re.IGNORECASE)
_LED_IN = re.compile(
    r"^(?:so )?(?:you(?:'ll| will)? (?:want|need|take)|i (?:use|take)|take|use|and|then|lastly) "
    r"(?=[0-9][^.;,]{3,40}$)"
    r"|^(?:so|ok|okay|well|right),? (?=(?:mix|knead|put|tip|stir|add|fold|shape|bake|leave|let)\b)",
    re.IGNORECASE,
)
_FRAME = (Section.NOTES, Section.OTHER, Section.EQUIPMENT)


def read_text(text: str, book: IngredientBook) -> Reading:
    """Read a pasted recipe. Raises TooMuchText; everything else becomes doubts."""
    if len(text) > MOST_CHARACTERS:
        raise TooMuchText("characters", len(text), MOST_CHARACTERS)
    lines = text.splitlines()
    if len(lines) > MOST_LINES:
        raise TooMuchText("lines", len(lines), MOST_LINES)
    reading = Progress(book, unit=unit_for_all(text))
    spoken = text if any(map(str.isdigit, text)) else in_figures(text)
    paragraphs = list(_paragraphs(unfolded(spoken.splitlines())))
    begins = _list_begins(paragraphs, book)
    for n, (place, paragraph) in enumerate(paragraphs):
        reading.set_apart = place.first - reading.place.last > 1
        reading.place = place
        if reading.set_apart:
            reading.set_off(headed=False)
        following = "".join(next_line for _, next_line in paragraphs[n + 1 : n + 2])
        reading.behind = "".join(next_line for _, next_line in paragraphs[n + 2 : n + 3])
        _take(reading, paragraph, following, before_list=n < begins)
    read = finished(reading)
    told = (*read.doubts, *unread(read, paragraphs, book))
    return replace(read, source="\n".join(lines), doubts=told)


def _paragraphs(lines: list[Numbered]) -> Iterator[tuple[Place, str]]:
    """The lines that say something; a sentence broken by its page's width is joined again."""
    current, first, last = "", 0, 0
    for n, line in lines:
        line = _LED_IN.sub("", line.replace("\0", " "))
        if current and continues(current, line):
            current, last = f"{current.rstrip()} {line.strip()}", n
            continue
        if current:
            yield Place(first, last), current
        said = line.strip() and (not is_rule(line) or read_head(line))
        current, first, last = line if said else "", n, n
    if current:
        yield Place(first, last), current


def _list_begins(paragraphs: list[tuple[Place, str]], book: IngredientBook) -> int:
    """The number of the first paragraph that is an ingredient or a heading of some; 0 for none."""
    for n, (_, line) in enumerate(paragraphs):
        heading = read_heading(line)
        if heading and heading.section is Section.INGREDIENTS:
            return n
        named = line.partition("(")[0]
        titled = n == 0 and not (any(map(str.isdigit, named)) or book.named_in(named))
        if not is_facts(line) and not titled and is_list(book, line):
            return n
    return 0


def _take(reading: Progress, line: str, following: str, *, before_list: bool) -> None:
    if _is_frame(reading, line):
        reading.leave(line)
        return
    table = read_head(line)
    if table is None or not table.is_of_parts:
        heading = read_heading(line) or label(reading, line, following)
    else:
        heading = None
    if heading and _take_heading(reading, heading, line, following):
        reading.set_off(headed=not is_day(heading.name))
        return
    before_list = before_list or bool(heading and not reading.head)
    if _take_work(reading, line):
        return
    if reading.section in (Section.HEAD, Section.INGREDIENTS):
        if take_table(reading, line):
            return
        if is_table_head(line):
            reading.leave(line)
            return
        if stated_before(reading, line):
            return
    elif reading.section is Section.METHOD:
        if stated_behind(reading, line):
            return
        if goes_on_listing(reading.book, line, following):
            reopen(reading)
    if is_bare_row(reading.book, line) and _bare_rows(reading, following):
        reading.section = Section.INGREDIENTS
    if reading.section is Section.HEAD:
        _take_head(reading, line, before_list)
    else:
        _TAKERS[reading.section](reading, line)


def _take_work(reading: Progress, line: str) -> bool:
    """Read the head or a row of a table of steps; False for a line that is neither."""
    if head := read_work_head(line):
        reading.work, reading.section = head, Section.METHOD
        reading.use()
        return True
    step = read_work(line, reading.work) if reading.work else ""
    if step:
        reading.say(step)
    return bool(step)


def _bare_rows(reading: Progress, following: str) -> bool:
    """Whether names with bare numbers are a list here: among ingredients, or where two meet."""
    return reading.section is Section.INGREDIENTS or bool(bare_row(following))


def _is_frame(reading: Progress, line: str) -> bool:
    """Whether a line is around the recipe and not part of it."""
    if is_web(line) or is_left_out(line):
        return True
    outside = reading.section is Section.HEAD and not reading.lines
    return outside and (is_greeting(line) or is_bracketed(line)) and not _amounts(reading, line)


def _amounts(reading: Progress, line: str) -> bool:
    return next(ingredients_in(line, reading.book), None) is not None


def _take_heading(reading: Progress, heading: Heading, line: str, following: str) -> bool:
    """Open a section or a part; False if here the line is something else."""
    if heading.is_group:
        if reading.section is Section.HEAD and not reading.head:
            return False
        reading.leave(line) if heading.section else reading.use()
        return True
    in_head = reading.section is Section.HEAD
    first = in_head and all(is_occasion(said.text) for said in reading.head)
    if first and is_title(reading, heading, line, following):
        return False
    if in_head and is_name(reading, heading, line, following):
        return False
    if reading.section is Section.METHOD and heading.kind and heading.rest:
        return _take_labelled_step(reading, heading, line)
    if heading.section:
        reading.section = heading.section
    elif reading.section not in (Section.METHOD, *_FRAME) or is_listed_next(reading, following):
        if not heading.sure and reading.section is not Section.INGREDIENTS:
            return False
        reading.section = Section.INGREDIENTS
    if reading.section is Section.OTHER:
        reading.leave(line)
        return True
    if heading.kind and names_again(reading, heading, line, following):
        reading.leave(line)
        return True
    reading.use()
    take_facts(reading, line)
    if not reading.makes.pieces and (stated := stated_makes(line_text(line))):
        reading.makes = stated
    if heading.rest and heading.kind and is_work(heading.rest) and not rows_of(heading.rest)[0]:
        reading.say(labelled_step(heading, heading.rest))
        reading.section = Section.METHOD if reading.lines else reading.section
        return True
    if heading.kind and reading.section is Section.INGREDIENTS:
        reading.open(WrittenPart(heading.kind, heading.name))
        if heading.aside and is_timed(tokenize(heading.aside)):
            reading.say(labelled_step(heading, heading.aside))
    if heading.rest:
        if reading.section is Section.INGREDIENTS and heading.kind:
            take_rest(reading, heading)
        else:
            whole = reading.section is Section.NOTES
            _TAKERS[reading.section](reading, line if whole else heading.rest)
    return True


def _take_labelled_step(reading: Progress, heading: Heading, line: str) -> bool:
    """A step behind a part's name, or a late line of it; a dough's name says nothing more."""
    rest = heading.rest.rstrip(" .")
    measured = _amounts(reading, rest) or is_list(reading.book, rest)
    if measured and not is_work(rest) and heading.kind:
        reading.open(WrittenPart(heading.kind, heading.name))
        take_rest(reading, replace(heading, rest=rest))
        reading.section = Section.METHOD
        return True
    if heading.kind is ComponentKind.DOUGH and heading.name.lower() not in OPENING:
        _take_method(reading, heading.rest)
    else:
        _take_method(reading, line)
    return True


def _take_head(reading: Progress, line: str, before_list: bool) -> None:
    if subject := _SUBJECT.match(line.strip()):
        reading.title = subject["title"].strip()
        reading.use()
    elif not before_list and (is_list(reading.book, line)):
        reading.section = Section.INGREDIENTS
        take_ingredient(reading, line)
    elif not before_list and (is_method(line) or _amounts(reading, line)):
        reading.section = Section.METHOD
        _take_method(reading, line)
    else:
        reading.head.append(Said(line, reading.place))


def _take_method(reading: Progress, line: str) -> None:
    reading.say(without_number(line))


def _take_equipment(reading: Progress, line: str) -> None:
    reading.equipment.append(line_text(line))
    reading.use()


def _take_note(reading: Progress, line: str) -> None:
    take_facts(reading, line)
    reading.notes.append(line_text(line))
    reading.use()


def _leave(reading: Progress, line: str) -> None:
    reading.leave(line)


_TAKERS = {
    Section.INGREDIENTS: take_ingredient,
    Section.METHOD: _take_method,
    Section.EQUIPMENT: _take_equipment,
    Section.NOTES: _take_note,
    Section.OTHER: _leave,
}

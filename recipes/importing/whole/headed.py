"""What looks like a heading, at its place: a part, the title, or a line that takes a part."""

from __future__ import annotations

from recipes.core.choices import ComponentKind
from recipes.importing.tables.rows import rows_of
from recipes.importing.text.headings import Heading, Section, read_label
from recipes.importing.text.shapes import is_table_head
from recipes.importing.text.tokens import line_text
from recipes.importing.whole.facts import is_facts
from recipes.importing.whole.looks import is_bare_row, is_list
from recipes.importing.whole.progress import Progress

DOUGH = ComponentKind.DOUGH


def label(reading: Progress, line: str, following: str) -> Heading | None:
    """The heading that a short line set apart within a list is, whatever its words."""
    begins = reading.set_apart or line.lower().startswith("for ")
    if reading.section is not Section.INGREDIENTS or not begins:
        return None
    heading = read_label(line)
    opens = heading and (heading.kind is not DOUGH or not reading.book.named_in(heading.name))
    return heading if opens and is_listed_next(reading, following) else None


def is_name(reading: Progress, heading: Heading, line: str, following: str) -> bool:
    """Whether a part's name in the head opens no part, since no list follows: `Porridge Loaf`."""
    opens = heading.section or heading.rest or line.rstrip().endswith(":")
    return not opens and not is_listed_next(reading, following)


def names_again(reading: Progress, heading: Heading, line: str, following: str) -> bool:
    """Whether what looks like a heading uses a part from above: `Predough`, `the biga`."""
    text = line_text(line)
    whole = text.lower().startswith(("the ", "all ", "your "))
    known = any(
        part.name == heading.name or (whole and part.kind is heading.kind is not DOUGH)
        for part in reading.parts
    )
    within = not reading.set_apart and not line.strip().startswith(("#", "*"))
    within = within and not text.endswith(":")
    known = known or (within and heading.kind in {part.kind for part in reading.parts} - {DOUGH})
    if not known or heading.rest or not is_listed_next(reading, following):
        return known and not heading.rest
    return within


def is_listed_next(reading: Progress, following: str) -> bool:
    """Whether a list follows, at once or behind a line that takes another part."""
    takes = following.lower().startswith(("all ", "the ")) and len(following.split()) < 8
    lines = (following, reading.behind) if takes else (following,)
    if all(is_bare_row(reading.book, one) for one in (following, reading.behind)):
        return True
    return any(
        is_table_head(one) or (is_list(reading.book, one) and not is_facts(one)) for one in lines
    )


def is_title(reading: Progress, heading: Heading, line: str, following: str) -> bool:
    """Whether what looks like a heading is the recipe's name: `Focaccia`, but not `Poolish`."""
    if rows_of(heading.rest)[0]:
        return False
    if heading.section is Section.INGREDIENTS and heading.rest:
        return not is_list(reading.book, heading.rest)
    if heading.section or (heading.sure and line.strip().endswith(":")):
        return False
    opens = heading.sure and heading.kind is not ComponentKind.DOUGH
    return not (opens and (is_listed_next(reading, following) or heading.rest))

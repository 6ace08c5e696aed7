"""What is wrong with how pages are filled, read from the boxes that the engine laid out."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any, NamedTuple

from handouts.paper import Paper
from handouts.press.fetcher import StaticFetcher
from handouts.press.render import PageSize, _lay_out, to_html

LEAST_FILLED = 0.15
HEADINGS = ("h1", "h2", "h3")
RULED = "ruled"  # lines to write on


class Line(NamedTuple):
    """A line of text in a page's content: the elements that it is in, outermost first."""

    bottom: float
    tags: tuple[str, ...]
    classes: frozenset[str]


class Page(NamedTuple):
    """A page's lines from the top, how much of it is filled, and its rows by their table."""

    lines: tuple[Line, ...]
    filled: float
    rows: dict[int, int]


def laid_out(paper: Paper, page_size: PageSize) -> list[Page]:
    """The pages of one paper."""
    document = _lay_out(to_html(paper), paper.style, page_size, StaticFetcher())
    return [_page(page._page_box) for page in document.pages]


def faults(pages: Sequence[Page]) -> Iterator[str]:
    """Each fault in words, with its page."""
    for number, page in enumerate(pages, start=1):
        if not page.lines:
            yield f"page {number} is empty"
            continue
        if page.filled < LEAST_FILLED:
            yield f"page {number} is filled to {page.filled:.0%}"
        if set(page.lines[-1].tags) & set(HEADINGS):
            yield f"page {number} ends with a heading"
        if "total" in page.lines[0].classes:
            yield f"page {number} begins with a total"
        if number > 1:
            before = pages[number - 2].rows
            lone = [table for table, rows in page.rows.items() if rows == 1 and before.get(table)]
            if lone:
                yield f"page {number} has one row of a table that began before"


def _page(box: Any) -> Page:
    lines, rows = [], {}
    body = next(child for child in box.children if child.element_tag == "html")
    _walk(body, (), frozenset(), lines, rows)
    lines.sort(key=lambda line: line.bottom)
    top, height = box.content_box_y(), box.height
    filled = max((line.bottom for line in lines), default=top) - top
    return Page(tuple(lines), filled / height, rows)


def _walk(
    box: Any,
    tags: tuple[str, ...],
    classes: frozenset[str],
    lines: list[Line],
    rows: dict[int, int],
    table: int = 0,
) -> None:
    from weasyprint.formatting_structure.boxes import LineBox, TableBox, TableRowBox

    element = getattr(box, "element", None)
    tags = (*tags, box.element_tag or "")
    if element is not None:
        classes |= frozenset(element.get("class", "").split())
    if isinstance(box, TableBox):
        table = id(element)
    if isinstance(box, TableRowBox) and tags[-2] != "thead":
        rows[table] = rows.get(table, 0) + 1
    if isinstance(box, LineBox) or (RULED in classes and not getattr(box, "children", ())):
        lines.append(Line(box.position_y + box.height, tags, classes))
        return
    for child in getattr(box, "children", ()):
        _walk(child, tags, classes, lines, rows, table)

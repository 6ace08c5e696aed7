"""What comes back from a review sheet, and what its buttons do."""

from __future__ import annotations

from collections.abc import Mapping

from recipes.editing.row_buttons import ADD, Pressed, press
from recipes.editing.rows import FormRow, PartRow, RecipeRows, posted_rows
from recipes.importing.text.lines import read_line
from recipes.importing.text.matching import IngredientBook
from recipes.review.doubt_words import Names
from recipes.review.rows import LONGEST_SOURCE, ReviewSheet, line_values

MOST_LEFT = 60
LONGEST_LEFT = 2000
RESTORE = "restore-row"


def posted_sheet(data: Mapping[str, str]) -> ReviewSheet:
    """The rows and the texts left out, as a browser posts them; unknown names are left out."""
    rows = posted_rows(data)
    rows.head["doubts"] = data.get("doubts", "")
    for part in rows.parts:
        part.values["doubts"] = data.get(f"{part.key}-doubts", "")
        for line in part.lines:
            _carry(line, data, f"{part.key}-{line.key}")
    for step in rows.steps:
        if str(step.values.get("text", "")).strip():
            step.values["doubts"] = data.get(f"{step.key}-doubts", "")
    _move(rows, data)
    return ReviewSheet(rows, _left(data))


def _carry(line: FormRow, data: Mapping[str, str], prefix: str) -> None:
    line.values["new_kind"] = data.get(f"{prefix}-new_kind", "")
    source = data.get(f"{prefix}-source", "")[:LONGEST_SOURCE]
    if source:
        line.values |= {"source": source, "doubts": data.get(f"{prefix}-doubts", "")}


def _move(rows: RecipeRows, data: Mapping[str, str]) -> None:
    """Put every line into the part that its own field names."""
    parts = {part.key: part for part in rows.parts}
    placed = [
        (part, line, parts.get(data.get(f"{part.key}-{line.key}-to", ""), part))
        for part in rows.parts
        for line in part.lines
    ]
    for part, line, wanted in placed:
        if wanted is not part:
            part.lines.remove(line)
            line.key = _free_key(wanted)
            _before_blanks(wanted, line)


def _free_key(part: PartRow) -> str:
    return f"line-{max((int(line.key[5:]) for line in part.lines), default=-1) + 1}"


def _before_blanks(part: PartRow, line: FormRow) -> None:
    """Add a line at the end of those that are filled in."""
    filled = [n for n, row in enumerate(part.lines, start=1) if any(row.values.values())]
    part.lines.insert(max(filled, default=0), line)


def _left(data: Mapping[str, str]) -> list[tuple[str, str]]:
    texts = [(data.get(f"left-{n}-text"), data.get(f"left-{n}-why", "")) for n in range(MOST_LEFT)]
    return [(text[:LONGEST_LEFT], why[:LONGEST_SOURCE]) for text, why in texts if text]


def press_review(sheet: ReviewSheet, button: Pressed) -> str:
    """Do what a row button says; original texts whose rows go away stay among those left out."""
    before = _sources(sheet.rows)
    focus = press(sheet.rows, button)
    after = _sources(sheet.rows)
    sheet.left += [(text, "") for name, text in before.items() if name not in after]
    return focus


def _sources(rows: RecipeRows) -> dict[tuple[str, str], str]:
    return {
        (part.key, line.key): line.values["source"]
        for part in rows.parts
        for line in part.lines
        if line.values.get("source")
    }


def restore(sheet: ReviewSheet, place: str, book: IngredientBook, names: Names) -> str:
    """Read a text that was left out as an ingredient line; return the field to go on with.

    The line goes into the dough, or the first part where there is none.
    """
    n = int(place) if place.isascii() and place.isdigit() and len(place) < 4 else len(sheet.left)
    if n >= len(sheet.left) or not sheet.rows.parts:
        return ""
    dough = next((row for row in sheet.rows.parts if row.values.get("kind") == "dough"), None)
    part = dough or sheet.rows.parts[0]
    focus = press(sheet.rows, Pressed(ADD, f"{part.key}-line"))
    if focus:
        text, _ = sheet.left.pop(n)
        part.lines[-1].values = line_values(read_line(text, book), book, names)
    return focus

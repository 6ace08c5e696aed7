"""What comes back from a review sheet, and what its buttons do."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping

from django.http import QueryDict

from recipes.editing.row_buttons import ADD, Pressed, press
from recipes.editing.rows import FormRow, PartRow, RecipeRows, posted_rows
from recipes.importing.text.lines import read_line
from recipes.importing.text.matching import IngredientBook
from recipes.review.doubt_words import Names
from recipes.review.groups import HEAD_GROUPS, WHOLE
from recipes.review.marked import LONGEST_SOURCE as LONGEST_ORIGINAL
from recipes.review.marked import read_spans
from recipes.review.rows import LONGEST_SOURCE, LeftText, ReviewSheet, line_values, without

MOST_LEFT = 60
MOST_LISTED = 20
LONGEST_LEFT = 2000
MOST_AGREED = 20
# Buttons: read a text as a line, keep it in the note, accept a row, or all that ask nothing.
RESTORE, KEEP, RIGHT, SURE = "restore-row", "keep-row", "right-row", "accept-sure"
# Use a suggestion for an ingredient that is not on the list: a row and a key.
USE = "use-row"
_MARK = re.compile(r"[0-9a-f]{64}", re.ASCII)
_AGREED = re.compile(r"[a-z]{1,20}=[0-9.]{1,12}", re.ASCII)


def posted_sheet(data: Mapping[str, str]) -> ReviewSheet:
    """The rows and the texts left out, as a browser posts them; unknown names are left out."""
    rows = posted_rows(data)
    rows.head |= {name: data.get(name, "") for name in ("doubts", "right")}
    for part in rows.parts:
        part.values["doubts"] = data.get(f"{part.key}-doubts", "")
        for line in part.lines:
            _carry(line, data, f"{part.key}-{line.key}")
        part.values["right"] = data.get(f"{part.key}-right", "")
    for step in rows.steps:
        if str(step.values.get("text", "")).strip():
            _carry_row(step, data, step.key)
    _move(rows, data)
    return ReviewSheet(
        rows,
        _left(data),
        original=data.get("original", "").replace("\r\n", "\n")[:LONGEST_ORIGINAL],
        head_spans=data.get("head_spans", "")[:LONGEST_ORIGINAL],
        mark=data.get("mark", "") if _MARK.fullmatch(data.get("mark", "")) else "",
        agreed=tuple(_AGREED.findall(data.get("agreed", "")))[:MOST_AGREED],
    )


def _carry(line: FormRow, data: Mapping[str, str], prefix: str) -> None:
    line.values["new_kind"] = data.get(f"{prefix}-new_kind", "")
    line.values["new_read"] = data.get(f"{prefix}-new_read", "")
    for name in ("new_hydration", "new_flours"):
        # What was not asked stays unasked.
        if f"{prefix}-{name}" in data:
            line.values[name] = data[f"{prefix}-{name}"][:LONGEST_SOURCE]
    for name in ("new_us", "new_eu"):
        line.values[name] = _listed(data, f"{prefix}-{name}")
    source = data.get(f"{prefix}-source", "")[:LONGEST_SOURCE]
    if source:
        line.values["source"] = source
        _carry_row(line, data, prefix)


def _listed(data: Mapping[str, str], name: str) -> list[str]:
    """All that is checked under one name."""
    return data.getlist(name)[:MOST_LISTED] if isinstance(data, QueryDict) else []


def _carry_row(row: FormRow, data: Mapping[str, str], prefix: str) -> None:
    row.values |= {name: data.get(f"{prefix}-{name}", "") for name in ("doubts", "span", "right")}


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


def _left(data: Mapping[str, str]) -> list[LeftText]:
    posted = [
        [data.get(f"left-{n}-{name}", "") for name in ("text", "why", "span")]
        for n in range(MOST_LEFT)
    ]
    return [
        LeftText(text[:LONGEST_LEFT], why[:LONGEST_SOURCE], span[:20])
        for text, why, span in posted
        if text
    ]


def press_review(sheet: ReviewSheet, button: Pressed) -> str:
    """Do what a row button says; original texts whose rows go away stay among those left out."""
    before = _sources(sheet.rows)
    focus = press(sheet.rows, button)
    after = _sources(sheet.rows)
    sheet.left += [left for name, left in before.items() if name not in after]
    return focus


def _sources(rows: RecipeRows) -> dict[tuple[str, str], LeftText]:
    """The original texts of lines and steps that have one, as they are listed when left out."""
    lines = [(part.key, line, "source") for part in rows.parts for line in part.lines]
    steps = [("", step, "text") for step in rows.steps]
    return {
        (key, row.key): LeftText(text, span=row.values.get("span", ""))
        for key, row, name in (*lines, *steps)
        if (text := row.values.get(name)) and (name == "source" or row.values.get("span"))
    }


def accept(sheet: ReviewSheet, target: str) -> None:
    """Accept a row as it is: a line, step, part, group of the head's fields, or figure."""
    kind, _, key = target.partition("-")
    if kind == "figure" and _AGREED.fullmatch(key):
        sheet.agreed = (*sheet.agreed, key)
    elif kind == "head":
        names = (WHOLE,) if key == "whole" else HEAD_GROUPS.get(key, ())
        sheet.rows.head["doubts"] = without(str(sheet.rows.head.get("doubts", "")), names)
    else:
        for place, row in _places(sheet.rows):
            if place == target:
                row.values |= {"doubts": "", "right": "1"}


def _places(rows: RecipeRows) -> Iterator[tuple[str, FormRow]]:
    """Parts, lines and steps, each by the prefix of its fields."""
    for part in rows.parts:
        yield part.key, part
        yield from ((f"{part.key}-{line.key}", line) for line in part.lines)
    yield from ((step.key, step) for step in rows.steps)


def use(sheet: ReviewSheet, answer: str, labels: Mapping[str, str]) -> str:
    """Use an ingredient of the list for a row; return the row, empty if there is none."""
    place, _, key = answer.partition(" ")
    for found, row in _places(sheet.rows):
        if found == place and key in labels and "ingredient" in row.values:
            row.values["ingredient"] = labels[key]
            return place
    return ""


def keep(sheet: ReviewSheet, place: str) -> str:
    """Put a text that was left out into the recipe's note; return the field to continue with."""
    n = _number(place, sheet)
    if n is None:
        return ""
    note = str(sheet.rows.head.get("note") or "").rstrip()
    sheet.rows.head["note"] = f"{note}\n{sheet.left.pop(n).text}".strip()
    return "note"


def _number(place: str, sheet: ReviewSheet) -> int | None:
    """Which of the texts left out a button names; None for one that is not there."""
    n = int(place) if place.isascii() and place.isdigit() and len(place) < 4 else len(sheet.left)
    return n if n < len(sheet.left) else None


def restore(sheet: ReviewSheet, place: str, book: IngredientBook, names: Names) -> str:
    """Read a text that was left out as an ingredient line; return the field to continue with.

    The line goes into the dough, or the first part if there is none.
    """
    n = _number(place, sheet)
    if n is None or not sheet.rows.parts:
        return ""
    dough = next((row for row in sheet.rows.parts if row.values.get("kind") == "dough"), None)
    part = dough or sheet.rows.parts[0]
    focus = press(sheet.rows, Pressed(ADD, f"{part.key}-line"))
    if focus:
        left = sheet.left.pop(n)
        span = next(iter(read_spans(left.span)), None)
        part.lines[-1].values = line_values(read_line(left.text, book), book, names, span)
    return focus

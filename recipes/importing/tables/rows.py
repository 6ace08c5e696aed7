"""Several ingredients after one label: `Poolish: 250 T65, 250 water`, `flour: 400 g bread`."""

from __future__ import annotations

import re
from dataclasses import dataclass

from recipes.core.choices import ComponentKind
from recipes.importing.method.sentences import sentences
from recipes.importing.method.verbs import STEP_VERBS
from recipes.importing.tables.bare import MEASURED, bare_row, bare_rows
from recipes.importing.text.headings import Heading
from recipes.importing.text.matching import IngredientBook
from recipes.importing.text.tokens import clean, line_text

LONGEST = 400
_CUT = re.compile(r"[,;]\s+(?![^(]*\))|\s(?:\+|//)\s")
_GROUP = re.compile(r"^[^\W\d_][\w' ]{1,24}:\s*(?P<rest>\S.*)$")
_SET = re.compile(r"^(?:build|builds|set|fed|made)\b(?: at [0-9]{1,2}[:.][0-9]{2})?,?\s*", re.I)
_LABEL = re.compile(r"^(?P<label>flours?|seeds?|sugars?|nuts?)\s*:\s*(?P<rest>[0-9].*)$", re.I)


@dataclass(frozen=True, slots=True)
class Row:
    """One ingredient as a line would say it, and its own words."""

    text: str
    shown: str


def rows_of(text: str) -> tuple[list[Row], str]:
    """The ingredients of the first sentence of a list after a label, and what follows it."""
    cleaned = clean(text[:LONGEST])
    first, *rest = [*sentences(cleaned)] or [""]
    cut = [item.strip(" .") for item in _CUT.split(first) if item.strip(" .")]
    if cut[-1:] == ["overnight"]:
        rest = [cut.pop(), *rest]
    bare = {item: bare_row(item) for item in cut}
    amounts = [one for one in cut if one[:1].isdigit() or MEASURED.search(one) or bare[one]]
    if len(cut) < 2 or len(amounts) * 2 <= len(cut):
        return [], cleaned
    return [Row(bare[item] or item, item) for item in cut], " ".join(rest)


def labelled(line: str, book: IngredientBook) -> list[Row]:
    """The ingredients of a line after a label: `flour: 400 g bread, 200 g spelt`, `Dry: ...`.

    None of `Pan: round 230, deep 50`, where nothing is a known ingredient.
    """
    rows = _after_label(line)
    return rows if any(book.named_in(row.text) for row in rows) else []


def _after_label(line: str) -> list[Row]:
    cleaned = line_text(line[:LONGEST])
    if bare := bare_rows(cleaned):
        return [Row(row, row) for row in bare]
    found = _LABEL.match(cleaned)
    if found is None:
        group = _GROUP.match(cleaned)
        each = cleaned if group and ":" in group["rest"] else group and group["rest"]
        rows, rest = rows_of(each) if each else ([], "")
        measured = sum(bool(MEASURED.search(row.shown) or row.text != row.shown) for row in rows)
        return rows if not rest and measured * 2 > len(rows) else []
    label = found["label"].lower()
    label = label.rstrip("s") if "flour" in label else label
    cut = [item.strip(" .") for item in _CUT.split(found["rest"]) if item.strip(" .")]
    return [Row(item if label in item.lower() else f"{item} {label}", item) for item in cut]


def labelled_step(heading: Heading, text: str) -> str:
    """What is beside a part's name, as a step: `(build 8 h at 25 C)` ripens for that time."""
    said = _SET.sub("", text)
    if set(said.lower().replace(",", " ").split()) & STEP_VERBS.keys():
        return f"{heading.name}: {said}"
    work = "mix" if heading.kind is ComponentKind.DOUGH else "ripen"
    return f"{heading.name}: {work} {said}"

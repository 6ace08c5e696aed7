"""Everything read of a recipe as one reading, with its parts compared with each other."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal

from recipes.core.numbers import ZERO
from recipes.core.units import Unit
from recipes.core.written import WrittenPart, WrittenRecipe
from recipes.importing import doubts as line_doubts
from recipes.importing.doubts import Doubt
from recipes.importing.errors import TooMuchText
from recipes.importing.method.steps import Method
from recipes.importing.naming.spelling import stems
from recipes.importing.tables.bare import weighed_bare
from recipes.importing.tables.batches import of_one_batch
from recipes.importing.tables.formulas import (
    checked_percents,
    without_total,
    worked_out,
)
from recipes.importing.text.headings import kind_named
from recipes.importing.text.makes import Makes
from recipes.importing.values import LeftOver, Reading, ReadLine
from recipes.importing.whole import doubts
from recipes.importing.whole.kinds import settled_kinds
from recipes.importing.whole.progress import MADE_AHEAD

MOST_LINES = 400
_NAMING_WORDS = 6
_NEAR = Decimal("0.02")
_NEAR_PART = Decimal("0.03")
_STARTER = "starter"


def cut(text: str, most: int, told: list[Doubt]) -> str:
    """A text shortened to `most` characters, with a doubt that contains the rest."""
    if len(text) > most:
        told.append(line_doubts.TextCut(text[most:].strip()))
    return text[:most].strip()


def gathered(
    head: WrittenRecipe,
    makes: Makes,
    parts: Sequence[WrittenPart],
    lines: Sequence[ReadLine],
    method: Method,
    *,
    total_g: Decimal | None = None,
    flour_g: Decimal | None = None,
    unit: Unit | None = None,
    totals: Sequence[tuple[int, Decimal]] = (),
) -> Reading:
    """The whole reading; `total_g` is a stated mass of the dough, `totals` those of parts.

    `flour_g` is a stated mass of its flours, `unit` is that of numbers without one.

    Raises TooMuchText for more than any recipe has.
    """
    for counted, found in (("ingredients", lines), ("steps", method.drafts)):
        if len(found) > MOST_LINES:
            raise TooMuchText(counted, len(found), MOST_LINES)
    due_g = makes.pieces * makes.piece_g if makes.pieces and makes.piece_g else None
    lines = of_one_batch(weighed_bare(lines, unit, total_g or due_g), total_g or due_g)
    weighed = checked_percents(worked_out(lines, total_g or due_g, flour_g, sure=bool(total_g)))
    told: list[Doubt] = _off_totals(parts, weighed, totals)
    parts, weighed, apart = without_total(parts, weighed)
    kept, left, otherwise = without_references(weighed, parts)
    settled, kept = settled_kinds(parts, kept, " ".join(step.text for step in method.steps))
    written = replace(
        head,
        piece_name=makes.piece_name,
        pieces=makes.pieces,
        piece_g=makes.piece_g,
        dough_temperature_c=head.dough_temperature_c or method.dough_temperature_c,
        core_temperature_c=head.core_temperature_c or method.core_temperature_c,
        parts=tuple(
            replace(part, lines=tuple(line.written for line in kept if line.part == n))
            for n, part in enumerate(settled)
        ),
        steps=tuple(method.steps),
    )
    missing = {"ingredients": lines, "method": method.drafts}
    told += [line_doubts.NothingRead(what) for what, found in missing.items() if not found]
    unsaid = {"title": head.title, "pieces": makes.pieces}
    told += [doubts.NotSaid(what) for what, found in unsaid.items() if not found]
    guessed = [n for n, part in enumerate(settled) if not part.kind.goes_into_dough]
    read = Reading(
        written,
        tuple(kept),
        tuple(method.doubts),
        tuple(left),
        (*told, *apart, *otherwise, *map(line_doubts.PiecesForPart, guessed)),
        step_places=tuple(method.places),
    )
    return replace(read, doubts=(*read.doubts, *_off_yield(read)))


def without_references(
    lines: Sequence[ReadLine], parts: Sequence[WrittenPart]
) -> tuple[list[ReadLine], list[LeftOver], list[Doubt]]:
    """The lines except those that only name another part, such as `all of the poolish`.

    If one gives an amount that differs from the part's mass, a doubt says so.
    """
    kept: list[ReadLine] = []
    left: list[LeftOver] = []
    told: list[Doubt] = []
    for line in lines:
        named = _named_part(line, parts)
        if named is None:
            kept.append(line)
            continue
        left.append(LeftOver(line.text, line_doubts.PartOfRecipe(named), line.place))
        made_g = sum((line.written.mass_g or ZERO for line in lines if line.part == named), ZERO)
        said_g = line.written.mass_g
        if said_g and made_g and abs(said_g - made_g) > made_g * _NEAR_PART:
            told.append(doubts.PartTakenOtherwise(parts[named].name, said_g, made_g))
    return kept, left, told


def _named_part(line: ReadLine, parts: Sequence[WrittenPart]) -> int | None:
    """The other part that a line names, unless the name is an ingredient."""
    if line.match.key and _STARTER not in line.match.key:
        return None
    words = [word for word in stems(line.text) if not word[:1].isdigit()][:_NAMING_WORDS]
    before = [n for n, part in enumerate(parts) if n < line.part and part.kind in MADE_AHEAD]
    if words[:1] == ["all"] and line.quantity is None and len(before) == 1:
        return before[0]
    for n, part in enumerate(parts):
        if n == line.part or part.kind not in MADE_AHEAD:
            continue
        own = stems(part.name)
        shared = [word for word in words if word in own]
        if shared and (kind_named(shared) is part.kind or set(own) <= set(words)):
            return n
    return None


def _off_totals(
    parts: Sequence[WrittenPart],
    lines: Sequence[ReadLine],
    totals: Sequence[tuple[int, Decimal]],
) -> list[Doubt]:
    """Doubts about totals that the lines of their part do not add up to."""
    told: list[Doubt] = []
    for n, said_g in totals:
        masses = [line.written.mass_g for line in lines if line.part == n]
        known = [mass for mass in masses if mass is not None]
        made_g = sum(known, ZERO)
        if len(known) == len(masses) and abs(made_g - said_g) > said_g * _NEAR:
            told.append(doubts.TotalDisagrees(parts[n].name, said_g, made_g))
    return told


def _off_yield(read: Reading) -> list[Doubt]:
    """A doubt if the pieces and their mass do not match the lines of the dough."""
    written = read.written
    if not written.pieces or not written.piece_g:
        return []
    due_g, made_g = written.pieces * written.piece_g, read.dough_g
    dough = [line.mass_g for part in written.parts if part.kind.goes_into_dough
             for line in part.lines]  # fmt: skip
    far = abs(due_g - made_g) > due_g * _NEAR
    if not dough or not far or (None in dough and made_g < due_g):
        return []
    return [doubts.YieldAndLines(written.pieces, written.piece_g, made_g)]

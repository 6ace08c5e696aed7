"""Whether the notes on top of somebody's paper leave the cautions on its first page."""

from __future__ import annotations

from collections.abc import Iterable
from decimal import Decimal

from classes.core.diets.heeds import Heed
from handouts.labels.lettering import lines_needed
from handouts.safety.values import Caution

# A page's box, and type and lines as in paper/components.css, in millimeters and points.
PAGE_MM = Decimal(225)
WIDE_PT = Decimal(150) * 72 / Decimal("25.4")
TEXT_PT, TITLE_PT, NAME_PT = Decimal(12), Decimal(14), Decimal(30)
LINE_MM, TITLE_LINE_MM, NAME_LINE_MM = Decimal("5.6"), Decimal("5.6"), Decimal(12)
BOX_MM, HEAD_MM = Decimal(14), Decimal(22)
ALWAYS = 260  # Letters of the sentences that every box has.


def fits_on_top(
    name: str,
    heeds: Iterable[Heed],
    beside: Iterable[str],
    cautions: Iterable[Caution],
    larger: Decimal = Decimal(1),
) -> bool:
    """Whether all of them fit above the cautions on page one, by an estimate on the safe side.

    `larger` is by how much the type of the paper's edition is.
    """
    always = "x " * (ALWAYS // 2)
    texts = [
        (heed.title, (*heed.words, f"{heed.decided} {heed.by} {heed.note}", always))
        for heed in heeds
    ]
    if others := "; ".join(beside):
        texts.append(("At your station", (others, always)))
    boxes_mm = sum((_box_mm(title, lines) for title, lines in texts), Decimal(0))
    cautions_mm = sum((_mm(caution.text, TEXT_PT, LINE_MM) for caution in cautions), Decimal(0))
    name_mm = HEAD_MM + _mm(name, NAME_PT, NAME_LINE_MM)
    return name_mm + (boxes_mm + cautions_mm) * larger <= PAGE_MM


def _box_mm(title: str, lines: Iterable[str]) -> Decimal:
    text_mm = sum((_mm(line, TEXT_PT, LINE_MM) for line in lines), Decimal(0))
    return BOX_MM + _mm(f"Ask the instructor first: {title}", TITLE_PT, TITLE_LINE_MM) + text_mm


def _mm(text: str, size_pt: Decimal, line_mm: Decimal) -> Decimal:
    return line_mm * lines_needed(text, size_pt, WIDE_PT)

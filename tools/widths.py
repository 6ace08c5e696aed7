"""Measure the letters of our sans in its font files and write `wording/widths.py`."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from fontTools.ttLib import TTFont

ROOT = Path(__file__).resolve().parent.parent
FONTS = [ROOT / "static" / "fonts" / f"lato-{cut}.woff2" for cut in ("regular", "bold")]
TABLE = ROOT / "wording" / "widths.py"
LETTERS = [*range(0x20, 0x7F), *range(0xA0, 0x250), *range(0x2010, 0x2027), 0x2212]
HEAD = '''"""How wide the letters of our sans are: made by `python -m tools.widths`, not by hand.

Each letter's advance in its regular or its bold cut, whichever is wider, in thousandths of the size
of the type.
"""

# ruff: noqa: E501
# fmt: off
WIDTHS = {
'''


def measured() -> dict[int, str]:
    """The letters of each width."""
    from fontTools.ttLib import TTFont

    fonts = [TTFont(path) for path in FONTS]
    found: dict[int, str] = {}
    for code in LETTERS:
        widths = [width for font in fonts if (width := _advance(font, code)) is not None]
        if len(widths) == len(fonts):
            width = max(widths)
            found[width] = found.get(width, "") + chr(code)
    return dict(sorted(found.items()))


def _advance(font: TTFont, code: int) -> int | None:
    glyph = font.getBestCmap().get(code)
    if glyph is None:
        return None
    advance: int = font["hmtx"][glyph][0]
    return -(-advance * 1000 // int(font["head"].unitsPerEm))


def table() -> str:
    """The source of the module."""
    rows = (f"    {width}: {letters!a},\n" for width, letters in measured().items())
    return f"{HEAD}{''.join(rows)}}}\n"


if __name__ == "__main__":
    TABLE.write_text(table(), encoding="utf-8")

"""Cut small web fonts from the Vollkorn and Lato installed on this machine.

Both are under the SIL Open Font License. A cut font is a modified one, so it gets a neutral family
name inside; copyright and license texts stay.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from fontTools.ttLib import TTFont

SOURCES = {
    "vollkorn-regular.woff2": "Vollkorn-Regular",
    "vollkorn-italic.woff2": "Vollkorn-Italic",
    "vollkorn-semibold.woff2": "Vollkorn-SemiBold",
    "lato-regular.woff2": "Lato-Regular",
    "lato-bold.woff2": "Lato-Bold",
}
FAMILIES = {"vollkorn": "Bakebench Serif", "lato": "Bakebench Sans"}
FOLDERS = (
    Path("/usr/share/fonts"),
    Path("/usr/local/share/fonts"),
    Path.home() / ".local/share/fonts",
    Path("/Library/Fonts"),
    Path.home() / "Library/Fonts",
)
FEATURES = [
    *("kern", "liga", "calt", "ccmp", "locl", "mark", "mkmk"),
    *("tnum", "pnum", "lnum", "onum", "frac", "numr", "dnom", "sups"),
]
RANGES = (
    (0x0020, 0x007E),  # Basic Latin
    (0x00A0, 0x024F),  # Latin-1, Extended-A and -B
    (0x02B0, 0x02DD),  # accents that stand alone
    (0x0300, 0x036F),  # accents that combine
    (0x1E80, 0x1E9E),  # more Latin
    (0x2000, 0x209F),  # punctuation, spaces, superscripts, subscripts
    (0x20A0, 0x20BF),  # currencies
    (0x2116, 0x2122),  # numero, trade mark
    (0x2150, 0x215F),  # fractions
    (0x2190, 0x21FF),  # arrows
    (0x2212, 0x2265),  # minus, fraction slash, comparison
    (0x25A0, 0x25FF),  # shapes
    (0x2610, 0x2612),  # boxes to tick
    (0x2713, 0x2717),  # ticks and crosses
)


def build(folder: Path) -> list[str]:
    """Make the missing web fonts in `folder`; return their names, none without sources."""
    made = []
    for name, source in _missing(folder):
        folder.mkdir(parents=True, exist_ok=True)
        _cut(source, folder / name)
        made.append(name)
    return made


def _missing(folder: Path) -> Iterator[tuple[str, Path]]:
    wanted = {name: stem for name, stem in SOURCES.items() if not (folder / name).is_file()}
    if not wanted:
        return
    installed = _installed()
    for name, stem in wanted.items():
        if stem in installed:
            yield name, installed[stem]


def _installed() -> dict[str, Path]:
    fonts = (path for folder in FOLDERS for path in folder.rglob("*.[ot]tf"))
    return {path.stem: path for path in fonts if path.stem in SOURCES.values()}


def _cut(source: Path, target: Path) -> None:
    from fontTools.subset import Options, Subsetter
    from fontTools.ttLib import TTFont

    font = TTFont(source)
    options = Options(layout_features=FEATURES, name_IDs=["*"], notdef_outline=True)
    options.drop_tables += ["DSIG"]
    subsetter = Subsetter(options)
    subsetter.populate(unicodes=[code for low, high in RANGES for code in range(low, high + 1)])
    subsetter.subset(font)
    _rename(font, FAMILIES[target.name.partition("-")[0]])
    font.flavor = "woff2"
    unfinished = target.with_suffix(".part")
    font.save(unfinished)
    unfinished.replace(target)


def _rename(font: TTFont, family: str) -> None:
    names = font["name"]
    style = names.getDebugName(17) or names.getDebugName(2) or "Regular"
    full = f"{family} {style}"
    given = {1: family, 3: full, 4: full, 6: full.replace(" ", "-"), 16: family, 17: style}
    for record in list(names.names):
        if record.nameID in given:
            names.setName(
                given[record.nameID],
                record.nameID,
                record.platformID,
                record.platEncID,
                record.langID,
            )


if __name__ == "__main__":
    for made in build(Path(__file__).resolve().parent.parent / "static" / "fonts"):
        print(f"Web font made: {made}")

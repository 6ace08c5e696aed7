"""Papers into one file for the printer: pages in order, a bookmark for each, each font once.

The tags for reading aloud are left out, since joining files would break them; every paper fetched
alone has them.
"""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from decimal import Decimal
from functools import cache
from io import BytesIO
from typing import NamedTuple

import pikepdf

from handouts.press.font_union import Subset, Unlike, union

_PAIR = re.compile(rb"<([0-9A-Fa-f]+)>\s*<([0-9A-Fa-f]+)>")
_WIDTHS = re.compile(rb"(\d+)\s+(?:(\d+)\s+([\d.+-]+)|\[([^]]*)\])")
_AT_ONCE = 100


class BoundPack(NamedTuple):
    """A pack: its bytes, how many pages it has, and how many those of each paper are, by part."""

    pdf: bytes
    pages: int
    counts: tuple[tuple[int, ...], ...]


class PackPart(NamedTuple):
    """The papers of a kind: the bookmark above them, and each paper with a bookmark of its own."""

    title: str
    papers: Sequence[tuple[str, bytes]]


def bind(parts: Iterable[PackPart], title: str, *, two_sided: bool = False) -> BoundPack:
    """One file of all papers, in their order. Raises ValueError without any.

    With `two_sided`, an empty page follows a paper of an odd number, so that the next one does not
    begin on its back.
    """
    bound, count = pikepdf.new(), 0
    counts: list[tuple[int, ...]] = []
    with bound.open_outline() as outline:
        for part in parts:
            above = pikepdf.OutlineItem(part.title, count)
            own: list[int] = []
            for label, pdf in part.papers:
                if label:
                    above.children.append(pikepdf.OutlineItem(label, count))
                pages = pikepdf.open(BytesIO(pdf)).pages
                bound.pages.extend(pages)
                own.append(len(pages))
                if two_sided and len(pages) % 2:
                    bound.add_blank_page(page_size=_size(pages[-1]))
                count = len(bound.pages)
            counts.append(tuple(own))
            if part.papers:
                outline.root.append(above)
    if not count:
        raise ValueError("no papers")
    _drop_tags(bound)
    _share_fonts(bound)
    _describe(bound, title)
    made = BytesIO()
    bound.save(made, object_stream_mode=pikepdf.ObjectStreamMode.generate, deterministic_id=True)
    return BoundPack(made.getvalue(), count, tuple(counts))


def _size(page: pikepdf.Page) -> tuple[Decimal, Decimal]:
    left, bottom, right, top = (Decimal(str(edge)) for edge in page.mediabox.as_list())
    return right - left, top - bottom


def _drop_tags(bound: pikepdf.Pdf) -> None:
    """Remove what points into the tags that were left out."""
    for page in bound.pages:
        _drop(page.obj, "/StructParents")
        for note in page.obj.get("/Annots", []):
            _drop(note, "/StructParent")


def _drop(found: pikepdf.Object, key: str) -> None:
    if key in found:
        del found[key]


def _describe(bound: pikepdf.Pdf, title: str) -> None:
    bound.Root.Lang = pikepdf.String("en")
    bound.Root.ViewerPreferences = pikepdf.Dictionary(DisplayDocTitle=True)
    with bound.open_metadata(set_pikepdf_as_editor=False) as about:
        about["dc:title"] = title
    bound.docinfo["/Title"] = title


# Fonts


def _share_fonts(bound: pikepdf.Pdf) -> None:
    """Make all subsets of a font point to their union."""
    families: dict[str, list[pikepdf.Object]] = defaultdict(list)
    for found in bound.objects:
        if _is_subset(found):
            families[str(found.BaseFont).partition("+")[2]].append(found)
    for fonts in families.values():
        _share(bound, fonts)


def _is_subset(found: pikepdf.Object) -> bool:
    """Whether this is a TrueType subset whose codes are the glyphs' places in the whole font."""
    if not isinstance(found, pikepdf.Dictionary) or found.get("/Subtype") != "/Type0":
        return False
    own = found.DescendantFonts[0]
    return bool(
        "+" in str(found.BaseFont)
        and found.Encoding == "/Identity-H"
        and own.get("/CIDToGIDMap") == "/Identity"
        and "/FontFile2" in own.FontDescriptor
        and b"beginbfrange" not in found.ToUnicode.read_bytes()
    )


def _share(bound: pikepdf.Pdf, fonts: Sequence[pikepdf.Object]) -> None:
    first, others = fonts[0], fonts[1:]
    if not others:
        return
    read = cache(_widths)
    widths = [read(font.DescendantFonts[0].W.unparse()) for font in fonts]
    try:
        whole = union(list(_subsets(fonts, widths)))
    except Unlike:
        return
    together = {code: width for some in widths for code, width in some.items()}
    written = dict.fromkeys(font.ToUnicode.read_bytes() for font in fonts)
    said = {code: text for table in written for code, text in _said(table)}
    own = first.DescendantFonts[0]
    own.FontDescriptor.FontFile2 = bound.make_stream(whole, Length1=len(whole))
    own.W = pikepdf.Array(
        part for code in sorted(together) for part in (code, pikepdf.Array([together[code]]))
    )
    first.ToUnicode = bound.make_stream(_in_words(said))
    for font in others:
        font.DescendantFonts, font.ToUnicode = first.DescendantFonts, first.ToUnicode
        font.BaseFont = first.BaseFont


def _subsets(
    fonts: Sequence[pikepdf.Object], widths: Sequence[dict[int, Decimal]]
) -> Iterator[Subset]:
    """The font files, each once, with the codes that are used with it."""
    used: dict[bytes, set[int]] = defaultdict(set)
    files: dict[bytes, pikepdf.Object] = {}
    for font, codes in zip(fonts, widths, strict=True):
        file = font.DescendantFonts[0].FontDescriptor.FontFile2
        packed = file.read_raw_bytes()
        files[packed] = file
        used[packed].update(codes)
    for packed, file in files.items():
        yield Subset(file.read_bytes(), frozenset(used[packed]))


def _widths(written: bytes) -> dict[int, Decimal]:
    """Widths by code, from the two ways in which a PDF writes them."""
    found: dict[int, Decimal] = {}
    for start, end, width, row in (match.groups() for match in _WIDTHS.finditer(written)):
        if row is None:
            found |= dict.fromkeys(range(int(start), int(end) + 1), Decimal(width.decode()))
        else:
            found |= dict(enumerate((Decimal(width.decode()) for width in row.split()), int(start)))
    return found


def _said(written: bytes) -> Iterator[tuple[bytes, bytes]]:
    """What each code means, so that text can be searched and copied."""
    lines = written.partition(b"beginbfchar")[2]
    yield from ((pair[1], pair[2]) for pair in _PAIR.finditer(lines))


def _in_words(said: dict[bytes, bytes]) -> bytes:
    pairs = [b"<%s> <%s>\n" % pair for pair in sorted(said.items())]
    blocks = [pairs[start : start + _AT_ONCE] for start in range(0, len(pairs), _AT_ONCE)]
    written = [b"%d beginbfchar\n%sendbfchar\n" % (len(some), b"".join(some)) for some in blocks]
    return b"".join((_CMAP_HEAD, *written, _CMAP_FOOT))


_CMAP_HEAD = (
    b"/CIDInit /ProcSet findresource begin\n12 dict begin\nbegincmap\n"
    b"/CIDSystemInfo << /Registry (Adobe) /Ordering (UCS) /Supplement 0 >> def\n"
    b"/CMapName /Adobe-Identity-UCS def\n/CMapType 2 def\n"
    b"1 begincodespacerange\n<0000> <ffff>\nendcodespacerange\n"
)
_CMAP_FOOT = b"endcmap\nCMapName currentdict /CMap defineresource pop\nend\nend\n"

"""The sheets that papers and labels are printed on, all of one size."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Self

from classes.models import Pack
from handouts.labels.sheets import PLAIN, LabelLayout
from handouts.preparing.arranged import ListBy
from handouts.press.render import PageSize
from wording.writing import Writing


@dataclass(eq=False)
class OtherSize(ValueError):
    """Labels that are made for sheets of another size than the papers."""

    labels: LabelLayout


@dataclass(frozen=True, slots=True)
class PrintSheets:
    """Papers on sheets of `page_size`, labels on sheets of that size too, and a list's order."""

    page_size: PageSize = PageSize.A4
    labels: LabelLayout = PLAIN[PageSize.A4]
    list_by: ListBy = ListBy.STATION

    @classmethod
    def of(cls, page_size: str = "", labels: str = "") -> Self:
        """The sheets with these names: without labels, plain paper of the size; without either, A4.

        With labels only, they decide the size. Raises ValueError for unknown names, and OtherSize.
        """
        layout = LabelLayout(labels) if labels else None
        size = PageSize(page_size) if page_size else layout.page_size if layout else PageSize.A4
        if layout and layout.page_size != size:
            raise OtherSize(layout)
        return cls(size, layout or PLAIN[size])

    @classmethod
    def usual(cls, writing: Writing, packs: Sequence[Pack] = ()) -> Self:
        """Those that were used last, the newest pack first, else those of the kitchen."""
        return cls.of_pack(packs[0]) if packs else cls.of(writing.sheet)

    @classmethod
    def of_pack(cls, pack: Pack) -> Self:
        """The sheets a pack was printed on; it may be older than the rule that sizes agree."""
        try:
            sheets = cls.of(pack.page_size, pack.layout)
        except OtherSize:
            sheets = cls.of(pack.page_size)
        return replace(sheets, list_by=ListBy(pack.list_by))


USUAL = PrintSheets()

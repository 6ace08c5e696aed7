"""What somebody should know before papers are printed."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import NamedTuple, Protocol

from classes.core.hours.checking.verdict import VerdictKind
from classes.home_kitchen.values import PaperSize
from classes.models import Pack
from handouts.kind import Material, NotPrinted
from handouts.print_desk.sheets import PrintSheets

HOURS, DIETS = "classes:hours", "classes:diets"


class DeskWarning(NamedTuple):
    """A sentence in two parts, and the name of the page where it is mended, if there is one."""

    title: str
    text: str
    page: str = ""


class Row(Protocol):
    """A kind of paper on the desk."""

    @property
    def printed(self) -> Pack | None: ...

    @property
    def is_stale(self) -> bool: ...


def warnings_of(
    material: Material, sheets: PrintSheets, rows: Iterable[Row]
) -> Iterator[DeskWarning]:
    """Everything that should be known, what matters most first."""
    yield from _conflicts(material)
    yield from _hours(material)
    yield from _sizes(material, sheets, rows)


def _conflicts(material: Material) -> Iterator[DeskWarning]:
    names = [person.eater.name for person in material.whole.concerns if person.open]
    if names:
        yield DeskWarning(
            f"{len(names)} open conflict{'s' if len(names) > 1 else ''}:",
            f"{', '.join(names)}. The papers say so in a black box until it is decided.",
            DIETS,
        )


def _hours(material: Material) -> Iterator[DeskWarning]:
    try:
        _, verdict = material.planned
    except NotPrinted:
        return
    if verdict.kind is VerdictKind.DOES_NOT_FIT:
        yield DeskWarning(
            "The class does not fit its hours:", "the papers carry times after its end.", HOURS
        )
    elif verdict.kind is VerdictKind.CANNOT_SAY:
        yield DeskWarning(
            "Whether the class fits its hours cannot be said:", "see what is missing.", HOURS
        )


def _sizes(material: Material, sheets: PrintSheets, rows: Iterable[Row]) -> Iterator[DeskWarning]:
    """Papers that are still right on sheets of another size than those to come."""
    own = PaperSize(sheets.page_size)
    if sheets.page_size != material.whole.kitchen.writing.sheet:
        usual = PaperSize(material.whole.kitchen.writing.sheet).label
        yield DeskWarning("Other sheets than usual:", f"{own.label}; the kitchen’s are {usual}.")
    printed = {row.printed.page_size for row in rows if row.printed and not row.is_stale}
    others = [PaperSize(size).label for size in sorted(printed - {sheets.page_size})]
    if others:
        yield DeskWarning(
            "Mixed sheet sizes:",
            f"papers that are still right were printed on {others[0]}, new ones come on "
            f"{own.label}.",
        )

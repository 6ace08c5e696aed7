"""The print desk: every paper of a class, when it was printed, and what has changed since."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from itertools import groupby

from classes.models import Pack
from handouts.catalog import KINDS
from handouts.kind import Leaf, Material, NotPrinted, PaperKind
from handouts.kinds.before_start import with_wall
from handouts.press.markup import markup_of
from handouts.press.render import PageSize
from handouts.print_desk.sheets import USUAL, PrintSheets

PACKS_LOOKED_AT = 40
NAMED = 6


@dataclass(frozen=True)
class DeskRow:
    """A kind of paper on the desk.

    `changed` has the labels of papers that differ from what was printed or are new since, `gone`
    counts those that were printed and no longer exist. `problem` says why none can be made.
    `sheets` are those of the last pack, for labels those of the pack that they were in.
    """

    kind: PaperKind
    leaves: tuple[Leaf, ...] = ()
    problem: NotPrinted | None = None
    sheets: PrintSheets = USUAL
    printed: Pack | None = None
    changed: tuple[str, ...] = ()
    gone: int = 0

    @property
    def query(self) -> str:
        """The query of an address that gets a paper on these sheets."""
        labels = f"&labels={self.sheets.labels}" if self.kind.are_labels else ""
        order = f"&by={self.sheets.list_by}" if self.kind.is_ordered else ""
        return f"page={self.sheets.page_size}{labels}{order}"

    @property
    def is_stale(self) -> bool:
        return bool(self.printed and (self.changed or self.gone))

    @property
    def is_wanted(self) -> bool:
        """Whether it should be printed now: usual, and never printed or outdated."""
        return bool(self.leaves) and (self.is_stale or (self.kind.usual and self.printed is None))

    @property
    def state(self) -> str:
        """The state in a word."""
        if self.problem:
            return "cannot be made yet"
        if self.printed is None:
            return "not printed"
        return "out of date" if self.is_stale else "printed"

    @property
    def named(self) -> tuple[str, ...]:
        """The first of the changed papers that have names."""
        return tuple(label for label in self.changed if label)[:NAMED]

    @property
    def more(self) -> int:
        """How many changed papers are not named."""
        return len(self.changed) - len(self.named) if self.named else 0


@dataclass(frozen=True)
class DeskPlace:
    """Where papers are used, and the kinds used there."""

    name: str
    rows: tuple[DeskRow, ...]


@dataclass(frozen=True)
class Desk:
    """The whole desk."""

    places: tuple[DeskPlace, ...]

    @property
    def rows(self) -> tuple[DeskRow, ...]:
        return tuple(row for place in self.places for row in place.rows)

    @property
    def stale(self) -> tuple[DeskRow, ...]:
        return tuple(row for row in self.rows if row.is_stale)

    @property
    def has_papers(self) -> bool:
        return any(row.leaves for row in self.rows)


def desk_of(material: Material, packs: Iterable[Pack]) -> Desk:
    """The desk of a class; `packs` that were made are given newest first."""
    packs = list(packs)
    usual = PrintSheets.usual(material.whole.kitchen.writing, packs)
    last: dict[str, Pack] = {}
    for pack in packs:
        for name in pack.printed:
            last.setdefault(name, pack)
    material = with_wall(material)
    before = printed_before(packs)
    rows = [
        _row(kind, material.on(usual), last.get(kind.name), before.get(kind.name, {}))
        for kind in KINDS
    ]
    by_place = groupby(rows, key=lambda row: row.kind.place)
    return Desk(tuple(DeskPlace(name, tuple(found)) for name, found in by_place))


def printed_before(packs: Iterable[Pack]) -> dict[str, dict[str, str]]:
    """What each paper contained when last printed, by kind and key.

    A pack of changed papers adds to the last one in which all papers of the kind were printed.
    """
    found: dict[str, dict[str, str]] = {}
    whole: set[str] = set()
    for pack in packs:
        for name, contents in pack.printed.items():
            if name in whole:
                continue
            found[name] = {**contents, **found.get(name, {})}
            if not pack.only_changed:
                whole.add(name)
    return found


def _row(
    kind: PaperKind, material: Material, printed: Pack | None, before: Mapping[str, str]
) -> DeskRow:
    """Labels are laid out for a sheet, so they are compared with those on the same one.

    A list is compared in the order in which it was printed.
    """
    if kind.are_labels and printed is not None:
        material = material.on(PrintSheets.of_pack(printed))
    if kind.is_ordered and printed is not None:
        order = PrintSheets.of_pack(printed).list_by
        material = material.on(replace(material.sheets, list_by=order))
    row = DeskRow(kind, sheets=material.sheets, printed=printed)
    try:
        leaves = tuple(kind.leaves(material))
    except NotPrinted as problem:
        return replace(row, problem=problem)
    if printed is None:
        return replace(row, leaves=leaves)
    changed = tuple(leaf.label for leaf in leaves if before.get(leaf.key) != _content(leaf))
    gone = len(before.keys() - {leaf.key for leaf in leaves})
    return replace(row, leaves=leaves, changed=changed, gone=gone)


def _content(leaf: Leaf) -> str:
    return markup_of(leaf.paper, PageSize.A4).content

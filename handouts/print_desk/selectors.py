"""The print desk: every paper of a class, when it was printed, and what has changed since."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, replace
from itertools import groupby

from classes.models import Pack
from handouts.catalog import KINDS
from handouts.kind import Leaf, Material, NotPrinted, PaperKind, Phase, phase_at
from handouts.kinds.before_start import KIND as WALL_SHEET
from handouts.kinds.before_start import with_wall
from handouts.press.markup import markup_of
from handouts.press.render import PageSize
from handouts.print_desk.holding import (
    NO_PAGES,
    Counted,
    Holding,
    counted_before,
    holding_of,
    together,
)
from handouts.print_desk.sheets import USUAL, PrintSheets
from handouts.print_desk.warnings import DeskWarning, warnings_of

PACKS_LOOKED_AT = 40
NAMED = 6


@dataclass(frozen=True)
class DeskRow:
    """A kind of paper on the desk.

    `changed` has the labels of papers that differ from what was printed or are new since, `gone`
    counts those that were printed and no longer exist. `problem` says why none can be made.
    `holding` is how many pages they take, `new` those that are new or have changed, and `phase` the
    part of the day that it is. `sheets` are those of the last pack, for labels those of the pack
    that they were in.
    """

    kind: PaperKind
    leaves: tuple[Leaf, ...] = ()
    problem: NotPrinted | None = None
    sheets: PrintSheets = USUAL
    printed: Pack | None = None
    changed: tuple[str, ...] = ()
    gone: int = 0
    holding: Holding = NO_PAGES
    new: Holding = NO_PAGES
    phase: Phase = Phase.DAYS_BEFORE

    @property
    def query(self) -> str:
        """The query of an address that gets a paper on these sheets."""
        labels = f"&labels={self.sheets.labels}" if self.kind.are_labels else ""
        order = f"&by={self.sheets.list_by}" if self.kind.is_ordered else ""
        return f"page={self.sheets.page_size}{labels}{order}"

    @property
    def leaves_to_wall(self) -> bool:
        """Whether one of its papers leaves cautions to the sheet on the wall."""
        return any(leaf.paper.foot.on_wall for leaf in self.leaves)

    @property
    def is_stale(self) -> bool:
        return bool(self.printed and (self.changed or self.gone))

    @property
    def is_wanted(self) -> bool:
        """Whether the day still needs it: usual and never printed, or outdated."""
        needed = self.phase <= self.kind.until
        wanted = self.is_stale or (self.kind.usual and self.printed is None)
        return bool(self.leaves) and needed and wanted

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
    warnings: tuple[DeskWarning, ...] = ()

    def chosen(self, kinds: Collection[str] | None, phase: Phase | None) -> frozenset[str]:
        """The kinds that are ticked: those asked for, those of a phase, or what is still needed."""
        if kinds is not None:
            return frozenset(row.kind.name for row in self.rows if row.kind.name in kinds)
        if phase is not None:
            rows = [row for row in self.rows if row.leaves and row.kind.usual]
            return frozenset(row.kind.name for row in rows if row.kind.until is phase)
        return frozenset(row.kind.name for row in self.rows if row.is_wanted)

    def holding(self, kinds: Collection[str], *, only_changed: bool = False) -> Holding:
        """How many pages a file of these kinds has; what leaves cautions to the wall brings it."""
        chosen = {row.kind.name: row for row in self.rows if row.kind.name in kinds}
        if any(row.leaves_to_wall for row in chosen.values()):
            wall = {row.kind.name: row for row in self.rows if row.kind is WALL_SHEET}
            chosen = wall | chosen
        return together(row.new if only_changed else row.holding for row in chosen.values())

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
    before, counts = printed_before(packs), counted_before(packs)
    phase = phase_at(material.whole, material.at)
    rows = [
        replace(
            _row(
                kind,
                material.on(usual),
                last.get(kind.name),
                before.get(kind.name, {}),
                counts.get(kind.name, {}),
            ),
            phase=phase,
        )
        for kind in KINDS
    ]
    by_place = groupby(rows, key=lambda row: row.kind.place)
    places = tuple(DeskPlace(name, tuple(found)) for name, found in by_place)
    return Desk(places, tuple(warnings_of(material, usual, rows)))


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
    kind: PaperKind,
    material: Material,
    printed: Pack | None,
    before: Mapping[str, str],
    counted: Mapping[str, Counted],
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
    keys = [leaf.key for leaf in leaves]
    same = frozenset(
        leaf.key for leaf in leaves if printed and before.get(leaf.key) == _content(leaf)
    )
    holding, new = (
        holding_of(some, same, counted, row.sheets.page_size, kind.usual_pages)
        for some in (keys, [key for key in keys if key not in same])
    )
    row = replace(row, leaves=leaves, holding=holding, new=new)
    if printed is None:
        return row
    changed = tuple(leaf.label for leaf in leaves if leaf.key not in same)
    return replace(row, changed=changed, gone=len(before.keys() - set(keys)))


def _content(leaf: Leaf) -> str:
    return markup_of(leaf.paper, PageSize.A4).content

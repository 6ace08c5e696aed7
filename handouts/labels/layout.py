"""Papers of labels: sheets filled with the faces of labels, row by row."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import ClassVar, TypeVar

from handouts.labels.fitting import Face, faces_of
from handouts.labels.label import Label
from handouts.labels.sheets import Grid, LabelLayout
from handouts.paper import Paper

Dealt = TypeVar("Dealt")


@dataclass(frozen=True, slots=True)
class LabelSheet:
    """The faces of a sheet by row; None is where the ruler is."""

    number: int
    rows: tuple[tuple[Face | None, ...], ...]


@dataclass(frozen=True, slots=True)
class Tally:
    """The labels of a place for a recipe, each with the number of faces that it takes."""

    holder: str
    about: str
    labels: tuple[tuple[Label, int], ...]


@dataclass(frozen=True, kw_only=True)
class LabelPaper(Paper):
    """Labels for a sheet of some layout, after a page on plain paper to try it with.

    It is made for the paper of its layout, `layout.page_size`. Where it `is_tallied`, that page
    lists what is labeled. Labels that are cut out of plain paper need no such page: what it says
    besides stands above them.
    """

    template: ClassVar[str] = "handouts/labels.html"
    style: ClassVar[str] = "labels"
    name: ClassVar[str]
    nothing: ClassVar[str] = "There is nothing to label."
    is_tallied: ClassVar[bool] = True

    layout: LabelLayout
    labels: tuple[Label, ...]

    @property
    def own_sheet(self) -> str:
        return self.layout.page_size

    @property
    def has_trial(self) -> bool:
        """Whether it begins with a page to try the labels with."""
        return not (self.layout.grid.is_cut and self.labels)

    @cached_property
    def faces(self) -> tuple[tuple[Face, ...], ...]:
        """The faces of each label."""
        grid, code = self.layout.grid, self.head.code
        return tuple(faces_of(label, code, grid) for label in self.labels)

    @cached_property
    def sheets(self) -> tuple[LabelSheet, ...]:
        """The sheets, filled row by row."""
        grid = self.layout.grid
        every = [face for faces in self.faces for face in faces]
        return tuple(
            LabelSheet(number, _rows(faces, grid))
            for number, faces in enumerate(_dealt(every, grid.places), start=1)
        )

    @property
    def tally(self) -> tuple[Tally, ...]:
        """What is labeled, by place and recipe."""
        found: dict[tuple[str, str], list[tuple[Label, int]]] = {}
        for label, faces in zip(self.labels, self.faces, strict=True):
            found.setdefault((label.holder, label.about), []).append((label, len(faces)))
        return tuple(Tally(*at, tuple(labels)) for at, labels in found.items())


def _rows(faces: Sequence[Face], grid: Grid) -> tuple[tuple[Face | None, ...], ...]:
    cells = [*([None] if grid.key_in_label else []), *faces]
    return tuple(tuple(row) for row in _dealt(cells, grid.columns))


def _dealt(many: Sequence[Dealt], width: int) -> Iterator[Sequence[Dealt]]:
    return (many[start : start + width] for start in range(0, len(many), width))

"""Labels as values, each laid out on as many labels of a sheet as its text needs."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import ClassVar, TypeVar

from handouts.labels.lettering import cut, cut_label, lines_needed
from handouts.labels.sheets import Grid, LabelLayout
from handouts.paper import Paper, PaperHead
from handouts.safety.values import Hazard
from recipes.core.allergens import AllergensFound
from wording.figures import NBSP
from wording.lettering import width_of

Dealt = TypeVar("Dealt")

BLANK, LONG_BLANK = "_" * 6, "_" * 12
DOT = " · "
_SAME = {"eggs": "egg", "nuts": "tree-nuts", "crustaceans": "crustacean-shellfish"}


@dataclass(frozen=True, slots=True)
class LabelBlock:
    """Lines of a label that stay together: a mass in grams or none, and words."""

    text: str
    grams: str = ""
    is_strong: bool = False

    @property
    def words(self) -> str:
        """Such as `1035 g Bread flour`."""
        return f"{self.grams}{NBSP}g {self.text}" if self.grams else self.text


@dataclass(frozen=True)
class Label:
    """One label: where it belongs, what is in it, and the lines below.

    `sum_g` is the sum of the contents in grams, empty if nothing is weighed.
    """

    holder: str
    title: str
    about: str
    contents: tuple[LabelBlock, ...]
    lines: tuple[LabelBlock, ...]
    allergens: AllergensFound
    sum_g: str = ""
    is_cold: bool = False


def hazards_of_labels(labels: Iterable[Label]) -> frozenset[Hazard]:
    """What can hurt those who fill what is labeled and keep it."""
    cold = {Hazard.CHILLED} if any(label.is_cold for label in labels) else set()
    return frozenset({Hazard.ALLERGENS, *cold})


@dataclass(frozen=True, slots=True)
class Face:
    """What is printed on one label of the sheet."""

    titles: tuple[str, ...]
    about: str
    blocks: tuple[LabelBlock, ...]


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

    It is made for the paper of its layout, `layout.page_size`.
    """

    template: ClassVar[str] = "handouts/labels.html"
    style: ClassVar[str] = "labels"
    name: ClassVar[str]
    nothing: ClassVar[str] = "There is nothing to label."

    layout: LabelLayout
    labels: tuple[Label, ...]

    @property
    def own_sheet(self) -> str:
        return self.layout.page_size

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


# How a label fills its faces


def faces_of(label: Label, code: str, grid: Grid) -> tuple[Face, ...]:
    """The label on as few faces as possible, with one line for each content if there is room."""
    titles = _titles(label, grid)
    room = _room(len(titles), grid)
    run_in = (
        [LabelBlock(", ".join(block.words for block in label.contents))] if label.contents else []
    )
    ways = [[*label.contents, *label.lines], [*run_in, *label.lines]]
    pages = min((list(_filled(blocks, room, grid)) for blocks in ways), key=len)
    return tuple(
        Face(titles, _about(label, code, part, grid), tuple(blocks))
        for part, blocks in _numbered(pages)
    )


def _numbered(pages: Sequence[list[LabelBlock]]) -> Iterator[tuple[str, list[LabelBlock]]]:
    """The pages, each with `1 of 2` if there are several."""
    for n, blocks in enumerate(pages, start=1):
        yield (f"{n} of {len(pages)}" if len(pages) > 1 else ""), blocks


def _about(label: Label, code: str, part: str, grid: Grid) -> str:
    tail = "".join(f"{DOT}{words}" for words in (code, part) if words)
    room_pt = grid.text_width_pt - width_of(tail, grid.text_pt)
    return cut_label(label.about, grid.text_pt, room_pt) + tail


def _titles(label: Label, grid: Grid) -> tuple[str, ...]:
    """Holder and title in one line or two."""
    size_pt, wide_pt = grid.title_pt, grid.text_width_pt
    together = f"{label.holder}{DOT}{label.title}"
    if cut(together, size_pt, wide_pt) == together:
        return (together,)
    return cut(label.holder, size_pt, wide_pt), cut(label.title, size_pt, wide_pt)


def _room(titles: int, grid: Grid) -> int:
    """How many lines of text a face has below its title and subject."""
    left_pt = grid.text_height_pt - titles * grid.title_leading_pt - grid.leading_pt
    return max(1, int(left_pt / grid.leading_pt))


def _filled(blocks: Iterable[LabelBlock], room: int, grid: Grid) -> Iterator[list[LabelBlock]]:
    """The blocks spread over faces with a line limit, without splits; too long ones are cut."""
    face: list[LabelBlock] = []
    left = room
    for block in blocks:
        fitting = _fitting(block, room, grid)
        needed = lines_needed(fitting.words, grid.text_pt, grid.text_width_pt)
        if face and needed > left:
            yield face
            face, left = [], room
        face.append(fitting)
        left -= needed
    if face:
        yield face


def _fitting(block: LabelBlock, room: int, grid: Grid) -> LabelBlock:
    wide_pt = grid.text_width_pt
    if lines_needed(block.words, grid.text_pt, wide_pt) <= room:
        return block
    grams = f"{block.grams}{NBSP}g " if block.grams else ""
    shown = cut(block.words, grid.text_pt, wide_pt, room)
    return replace(block, text=shown.removeprefix(grams))


# Words that several kinds of labels print


def holds_words(found: AllergensFound) -> tuple[LabelBlock, ...]:
    """The allergens entered for the contents, `Holds: wheat, milk`; never what they lack.

    What both lists of allergens name is said once, in the words of the US list.
    """
    us = {allergen.key for allergen in found.us}
    others = [allergen for allergen in found.eu if _SAME.get(allergen.key, allergen.key) not in us]
    labels = ", ".join(allergen.label for allergen in (*found.us, *others))
    holds = f"Holds: {labels}" if labels else "No allergen entered: ask, read the packs"
    traces = "; ".join(f"{name}: {words}" for name, words in found.may_contain)
    words = [holds]
    if traces:
        words.append(f"May contain: {traces}")
    if found.unknown:
        words.append(f"Cannot say: {', '.join(found.unknown)}")
    return tuple(LabelBlock(text, is_strong=True) for text in words)


def day_words(head: PaperHead) -> str:
    """The day on which the class ends, such as `Sat 4 May 2030`."""
    end = head.when.ends
    return f"{end.short_day} {end.local.year}".replace(" ", NBSP)


def discard_words(head: PaperHead, *, keeps: bool) -> LabelBlock:
    """When to discard it: dry things may be used until the class ends, the rest goes with it."""
    if keeps:
        return LabelBlock(f"Use in class or discard by {day_words(head)}")
    return LabelBlock(f"Discard by {day_words(head)}, {head.when.ends.clock}")


def cold_words(head: PaperHead) -> LabelBlock:
    """How cold it is kept."""
    return LabelBlock(head.writing.in_order(f"Keep at 5{NBSP}°C (41{NBSP}°F) or colder"))

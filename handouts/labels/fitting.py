"""How large a label is set so that it is full, and what goes on to another label.

The station is at least `STATION_PT` high where its name has room in two lines. Then the contents
are set as large as they go, then the station. The same sizes are in paper/labels.css, and a test
keeps the two the same.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import NamedTuple

from handouts.labels.label import Label, LabelBlock, Role
from handouts.labels.lettering import cut, cut_label, lines_needed
from handouts.labels.sheets import Grid
from handouts.station_shapes import Shapes
from wording.figures import NBSP
from wording.lettering import ELLIPSIS, width_of, wrapped
from wording.lettering import cut as cut_lines

DOT = " · "
STATION_PT, NEXT_PT = 40, 14
LARGE_PT = (88, 72, 60, 52, 44, STATION_PT)
LESS_PT = (34, 30, 26, 22, 17, NEXT_PT)
LARGE_LINES, LESS_LINES = 2, 3
GRAMS_EM = Decimal(4)
NAME_LEADING, LEADING = Decimal("1.05"), Decimal("1.2")
GAP_PT, SHAPE_GAP_PT, MARK_PT = Decimal(3), Decimal(4), Decimal(14)
NUMBER = re.compile(r", revision \d+")
ZERO_PT = Decimal(0)


class Step(NamedTuple):
    """Sizes that go together, in points: what it is and its contents, what is checked, the rest."""

    content_pt: Decimal
    check_pt: Decimal
    note_pt: Decimal

    @property
    def name(self) -> str:
        """The name of its style, such as `105` for contents of 10.5 points."""
        return str(int(self.content_pt * 10))

    @property
    def shape_pt(self) -> Decimal:
        """A station's shape is as high as the two lines that it stands beside."""
        return (self.content_pt + self.note_pt) * LEADING

    def size_of(self, block: LabelBlock) -> Decimal:
        if block.role is Role.CONTENT:
            return self.content_pt
        return self.note_pt if block.role is Role.NOTE else self.check_pt


def _step(sizes: str) -> Step:
    return Step(*map(Decimal, sizes.split()))


STEPS = (
    _step("30 12 10.5"),
    _step("22 12 10.5"),
    _step("17 12 10.5"),
    _step("14 10.5 9"),
    _step("12 10.5 9"),
    _step("10.5 9 8"),
    _step("9 9 8"),
    _step("8 8 8"),
)
LAST = STEPS[-1]
RUN_IN_FROM_PT = Decimal("10.5")


class Name(NamedTuple):
    """A station's name in lines of a size."""

    lines: tuple[str, ...]
    size_pt: int

    @property
    def height_pt(self) -> Decimal:
        return len(self.lines) * self.size_pt * NAME_LEADING


@dataclass(frozen=True, slots=True)
class Face:
    """What is printed on one label of the sheet; the `notes` stand at its foot.

    On the `next` labels of several the name is small, with what is in it, and beside the shapes.
    """

    name: Name
    title: str
    about: str
    marks: tuple[str, ...]
    shapes: Shapes
    step: str
    contents: tuple[LabelBlock, ...]
    notes: tuple[LabelBlock, ...]
    is_next: bool = False

    @property
    def blocks(self) -> tuple[LabelBlock, ...]:
        return self.contents + self.notes


class Filled(NamedTuple):
    """Faces of a label, each with its blocks, in sizes that go together."""

    name: Name
    step: Step
    faces: tuple[tuple[LabelBlock, ...], ...]


def faces_of(label: Label, code: str, grid: Grid) -> tuple[Face, ...]:
    """The label on as few faces as possible, each as large as it goes."""
    filled = _on_one(label, code, grid) or _on_several(label, grid)
    of = len(filled.faces)
    return tuple(
        _face(label, code, grid, filled, n, f"{n} of {of}" * (of > 1)) for n in range(1, of + 1)
    )


def _face(label: Label, code: str, grid: Grid, at: Filled, number: int, part: str) -> Face:
    step, blocks, is_next = at.step, at.faces[number - 1], number > 1
    wide_pt, title_pt = _beside_pt(label, step, grid), _title_pt(label, step, grid)
    tail = "".join(f"{DOT}{words}" for words in (code, part) if words)
    again = cut(f"{label.over}{DOT}{label.under}", Decimal(NEXT_PT), title_pt)
    return Face(
        name=Name((again,), NEXT_PT) if is_next else at.name,
        title="" if is_next else cut(label.under, step.content_pt, title_pt),
        about=_about(label.about, tail, step, wide_pt),
        marks=label.marks,
        shapes=label.shapes,
        step=step.name,
        contents=tuple(block for block in blocks if block.role is Role.CONTENT),
        notes=tuple(block for block in blocks if block.role is not Role.CONTENT),
        is_next=is_next,
    )


def _beside_pt(label: Label, step: Step, grid: Grid) -> Decimal:
    """The width beside the station's shapes."""
    return grid.text_width_pt - len(label.shapes) * (step.shape_pt + SHAPE_GAP_PT)


def _title_pt(label: Label, step: Step, grid: Grid) -> Decimal:
    """The width for what is in it, beside the marks."""
    marks_pt = sum((width_of(mark, step.note_pt) + MARK_PT for mark in label.marks), ZERO_PT)
    return _beside_pt(label, step, grid) - marks_pt


def _about(label: str, tail: str, step: Step, wide_pt: Decimal) -> str:
    """A revision's label in one line, its number left out before anything is cut."""
    size_pt = step.note_pt
    room_pt = wide_pt - width_of(tail, size_pt)
    words = (label, NUMBER.sub("", label))
    fitting = (one for one in words if width_of(one, size_pt) <= room_pt)
    return next(fitting, cut_label(words[-1], size_pt, room_pt)) + tail


# On one label


def _on_one(label: Label, code: str, grid: Grid) -> Filled | None:
    names, wide_pt = list(_possible_names(label, grid)), grid.text_width_pt
    for step in STEPS:
        for blocks in _ways(label, step):
            set_blocks = _all_set(blocks, step, wide_pt)
            if step is not LAST and not (
                _is_whole(set_blocks, step, grid) and _head_is_whole(label, code, step, grid)
            ):
                continue
            body_pt = _heights(set_blocks, step, wide_pt)
            for name in names:
                is_larger = name.size_pt > step.content_pt
                if is_larger and _head_pt(name, step) + body_pt <= grid.text_height_pt:
                    return Filled(name, step, (set_blocks,))
    return None


def _ways(label: Label, step: Step) -> Iterator[tuple[LabelBlock, ...]]:
    """The blocks, with a line for each content; in small type also with all contents in a row."""
    yield (*label.contents, *label.lines)
    if len(label.contents) > 1 and step.content_pt <= RUN_IN_FROM_PT:
        words = ", ".join(block.words for block in label.contents)
        yield (LabelBlock(words, role=Role.CONTENT), *label.lines)


def _is_whole(blocks: Sequence[LabelBlock], step: Step, grid: Grid) -> bool:
    """Whether no word is broken."""
    return all(
        width_of(word, step.size_of(block)) <= _width(block, step, grid.text_width_pt)
        for block in blocks
        for word in block.text.split(" ")
    )


def _head_is_whole(label: Label, code: str, step: Step, grid: Grid) -> bool:
    """Whether nothing of what is in it is cut, nor whose recipe it is."""
    about = _about(label.about, f"{DOT}{code}", step, _beside_pt(label, step, grid))
    fits = width_of(label.under, step.content_pt) <= _title_pt(label, step, grid)
    return fits and ELLIPSIS not in about


def _possible_names(label: Label, grid: Grid) -> Iterator[Name]:
    """The station's name from large to small: smaller than `STATION_PT` only if it has to be."""
    found = [*_names_in(label, LARGE_PT, LARGE_LINES, grid)] or [
        *_names_in(label, LESS_PT, LESS_LINES, grid)
    ]
    if found:
        yield from found
    else:
        size_pt = Decimal(NEXT_PT)
        yield Name(cut_lines(label.over, grid.text_width_pt, size_pt, LARGE_LINES), NEXT_PT)


def _names_in(label: Label, sizes: Sequence[int], most: int, grid: Grid) -> Iterator[Name]:
    for size_pt in sizes:
        lines = wrapped(label.over, grid.text_width_pt, Decimal(size_pt), most)
        if lines and _has_room(name := Name(lines, size_pt), LAST, grid):
            yield name


def _has_room(name: Name, step: Step, grid: Grid) -> bool:
    """Whether a label has room for its head, if for nothing else."""
    return _head_pt(name, step) - GAP_PT <= grid.text_height_pt


def _head_pt(name: Name, step: Step) -> Decimal:
    return name.height_pt + step.shape_pt + GAP_PT


# On several labels


def _on_several(label: Label, grid: Grid) -> Filled:
    """On the fewest that it takes, and as large as it goes there."""
    wide_pt = grid.text_width_pt
    found = (
        Filled(name, step, tuple(_spread(blocks, name, step, grid)))
        for name in _possible_names(label, grid)
        for step in STEPS
        if _has_room(name, step, grid)
        for blocks in _ways(label, step)
        if not _is_run_in(blocks[0]) or _heights(blocks[:1], step, wide_pt) <= _next_pt(step, grid)
    )
    return min(found, key=lambda filled: len(filled.faces))


def _is_run_in(block: LabelBlock) -> bool:
    """Whether it has all contents in a row, whose masses must not be cut."""
    return block.role is Role.CONTENT and not block.grams


def _next_pt(step: Step, grid: Grid) -> Decimal:
    """The height of another label below its head."""
    lines_pt = NEXT_PT * NAME_LEADING + step.note_pt * LEADING
    return grid.text_height_pt - max(lines_pt, step.shape_pt) - GAP_PT


def _spread(
    blocks: Sequence[LabelBlock], name: Name, step: Step, grid: Grid
) -> Iterator[tuple[LabelBlock, ...]]:
    """The blocks over faces, none split; what is too long for a whole face is cut."""
    wide_pt = grid.text_width_pt
    face: list[LabelBlock] = []
    left_pt, next_pt = grid.text_height_pt - _head_pt(name, step), _next_pt(step, grid)
    for block in _all_set(blocks, step, wide_pt):
        one = _cut(block, step, wide_pt, next_pt)
        height_pt = _heights([one], step, wide_pt)
        if height_pt > left_pt:
            yield tuple(face)
            face, left_pt = [], next_pt
        face.append(one)
        left_pt -= height_pt
    yield tuple(face)


# Blocks


def _width(block: LabelBlock, step: Step, wide_pt: Decimal) -> Decimal:
    """The width for the words of a block, beside its grams."""
    if not block.grams:
        return wide_pt
    size_pt = step.size_of(block)
    return wide_pt - max(width_of(f"{block.grams}{NBSP}g ", size_pt), GRAMS_EM * size_pt)


def _heights(blocks: Sequence[LabelBlock], step: Step, wide_pt: Decimal) -> Decimal:
    return sum(
        (
            lines_needed(block.text, size_pt, _width(block, step, wide_pt)) * size_pt * LEADING
            for block in blocks
            for size_pt in [step.size_of(block)]
        ),
        ZERO_PT,
    )


def _all_set(blocks: Sequence[LabelBlock], step: Step, wide_pt: Decimal) -> tuple[LabelBlock, ...]:
    return tuple(_set(block, step, wide_pt) for block in blocks)


def _set(block: LabelBlock, step: Step, wide_pt: Decimal) -> LabelBlock:
    """A block in the longest of its words that stay in one line."""
    size_pt, room_pt = step.size_of(block), _width(block, step, wide_pt)
    for text in (block.text, *block.shorter):
        if width_of(text, size_pt) <= room_pt:
            return replace(block, text=text)
    return replace(block, text=(block.text, *block.shorter)[-1])


def _cut(block: LabelBlock, step: Step, wide_pt: Decimal, most_pt: Decimal) -> LabelBlock:
    """A block of at most some height."""
    size_pt = step.size_of(block)
    lines = max(1, int(most_pt / (size_pt * LEADING)))
    return replace(block, text=cut(block.text, size_pt, _width(block, step, wide_pt), lines))

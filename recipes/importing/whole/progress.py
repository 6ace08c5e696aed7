"""What has been read of a pasted text, and the reader's position in it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from decimal import Decimal

from recipes.core.choices import ComponentKind
from recipes.core.units import Unit
from recipes.core.written import WrittenPart
from recipes.importing.doubts import Doubt
from recipes.importing.tables.reading import TableHead
from recipes.importing.tables.work import WorkHead
from recipes.importing.text.headings import Section, kind_named
from recipes.importing.text.lines import read_line
from recipes.importing.text.makes import Makes
from recipes.importing.text.matching import IngredientBook
from recipes.importing.text.tokens import clean, line_text
from recipes.importing.values import LeftOver, Place, ReadLine
from recipes.importing.whole.doubts import EmptyPart, PartGuessed
from recipes.importing.whole.prose import in_figures

_START = Place(1, 1)
_MOST_HEADING_WORDS = 5
MADE_AHEAD = (ComponentKind.PREFERMENT, ComponentKind.ROUX, ComponentKind.SOAKER)
WHOLE_DOUGH = WrittenPart(ComponentKind.DOUGH, "Dough")


@dataclass(frozen=True, slots=True)
class Said:
    """A text of the head or the method with its place in the source."""

    text: str
    place: Place


@dataclass
class Progress:
    """The parts and lines so far; head and method wait until all of the text is known.

    `behind` is the line after the next; the present one is `set_apart` if lines without text are
    before it. `named_by` is how much of the head is before the first yield, like its title.
    Lines go to `part`, which has its `number` from the first one on; that may be `guessed`, and
    they may be in a `block` set apart. The last line may have gone to a part `outside` the dough.
    """

    book: IngredientBook
    section: Section = Section.HEAD
    place: Place = _START
    head: list[Said] = field(default_factory=list)
    method: list[Said] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)
    equipment: list[str] = field(default_factory=list)
    left_over: list[LeftOver] = field(default_factory=list)
    behind: str = ""
    set_apart: bool = False
    used: list[Place] = field(default_factory=list)
    part: WrittenPart = WHOLE_DOUGH
    number: int | None = None
    outside: WrittenPart | None = None
    guessed: bool = False
    block: int = 0
    blocks: int = 0
    opened_at: Place = _START
    parts: list[WrittenPart] = field(default_factory=list)
    lines: list[ReadLine] = field(default_factory=list)
    title: str = ""
    named_by: int | None = None
    makes: Makes = field(default_factory=Makes)
    dough_temperature_c: Decimal | None = None
    core_temperature_c: Decimal | None = None
    bake_loss_percent: Decimal | None = None
    total_g: Decimal | None = None
    flour_g: Decimal | None = None
    unit: Unit | None = None
    table: TableHead | None = None
    work: WorkHead | None = None
    totals: list[tuple[int, Decimal]] = field(default_factory=list)
    doubts: list[Doubt] = field(default_factory=list)

    def open(self, part: WrittenPart, *, guessed: bool = False) -> None:
        """Let the next line begin this part."""
        self.ask_for_empty()
        self.part, self.number, self.guessed = part, None, guessed
        self.opened_at = self.place

    def set_off(self, *, headed: bool) -> None:
        """Let lines follow under a heading, or set apart without one."""
        self.blocks += not headed
        self.block = 0 if headed else self.blocks

    def close(self) -> None:
        """Let lines without a heading follow into the dough again."""
        doughs = [n for n, part in enumerate(self.parts) if part.kind is ComponentKind.DOUGH]
        self.number = doughs[-1] if doughs else None
        self.part = WHOLE_DOUGH if self.number is None else self.parts[self.number]

    def ask_for_empty(self) -> None:
        """Ask about a part, other than the dough, that a heading opened but no line filled."""
        if self.number is None and self.part.kind is not ComponentKind.DOUGH:
            self.doubts.append(EmptyPart(self.part.name))

    def part_number(self) -> int:
        """The number of the part that lines go into now; it is opened with its first line."""
        if self.number is None:
            self.parts.append(self.part)
            self.number = len(self.parts) - 1
        return self.number

    def named_part(self, part: WrittenPart) -> int:
        """The number of the part with this name, created if needed."""
        names = [known.name for known in self.parts]
        if part.name not in names:
            self.parts.append(part)
            return len(self.parts) - 1
        return names.index(part.name)

    def add(self, text: str, part: int, more: Iterable[Doubt] = (), shown: str = "") -> None:
        """Read a line into a part, with further doubts; `shown` is its text in the source."""
        figures = in_figures(text)
        line = read_line(figures, self.book, part)
        told = (*line.doubts, *more, *((PartGuessed(),) if self.guessed else ()))
        shown = clean(shown) or (line.text if figures == text else line_text(text))
        line = replace(line, text=shown, doubts=told, place=self.place, block=self.block)
        self.lines.append(line)
        if _may_be_heading(line):
            self.guessed = True
            self.set_off(headed=False)

    def leave(self, text: str, doubt: Doubt | None = None) -> None:
        """List a text as left out."""
        if shown := clean(text):
            self.left_over.append(LeftOver(shown, doubt, self.place))

    def leave_said(self, said: Said) -> None:
        """List a text of the head or the method as left out."""
        self.left_over.append(LeftOver(line_text(said.text), None, said.place))

    def use(self) -> None:
        """Note that the present place went into the head, or opens a part or the method."""
        self.used.append(self.place)

    def say(self, text: str) -> None:
        """Store a text of the method until everything is known."""
        self.method.append(Said(text, self.place))


def _may_be_heading(line: ReadLine) -> bool:
    """Whether a line names nothing and weighs nothing, or names a part, with others under it."""
    words = [word.strip(".,:;()").lower() for word in line.text.split()]
    if line.match.key or len(words) > _MOST_HEADING_WORDS:
        return False
    kind = kind_named(words)
    if kind in MADE_AHEAD:
        return False
    outside = kind is not None and kind is not ComponentKind.DOUGH
    return outside or line.text.endswith(":") or line.written.mass_g is None

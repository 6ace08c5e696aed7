"""What has been read of a pasted text, and the reader's position in it."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from decimal import Decimal

from recipes.core.choices import ComponentKind, IngredientKind
from recipes.core.written import WrittenPart
from recipes.importing.doubts import Doubt, NoUnit
from recipes.importing.text.headings import Section
from recipes.importing.text.lines import read_line
from recipes.importing.text.makes import Makes
from recipes.importing.text.matching import IngredientBook
from recipes.importing.text.tokens import clean
from recipes.importing.values import LeftOver, Place, ReadLine
from recipes.importing.whole.doubts import EmptyPart, PartGuessed, TakenAsGrams
from recipes.importing.whole.tables import TableHead

_BARE = re.compile(r"^(?P<number>[0-9]+(?:[.,][0-9]+)?) (?P<name>(?!x\b)[^\W\d_].*)$")
_LEAST_COUNTED_G = 10
_LEAST_UNNAMED_G = 20
_START = Place(1, 1)
MADE_AHEAD = (ComponentKind.PREFERMENT, ComponentKind.ROUX, ComponentKind.SOAKER)
WHOLE_DOUGH = WrittenPart(ComponentKind.DOUGH, "Dough")


@dataclass(frozen=True, slots=True)
class Said:
    """A text of the head or the method with its place in the source."""

    text: str
    place: Place


def _is_unweighed(line: ReadLine) -> bool:
    """Whether a line's number counts nothing."""
    kind = line.written.ingredient.kind
    if line.written.mass_g is not None or kind is IngredientKind.EGG:
        return False
    if (line.quantity or 0) < _LEAST_COUNTED_G:
        return any(isinstance(doubt, NoUnit) for doubt in line.doubts)
    named = line.match.key or kind is not IngredientKind.OTHER
    return bool(named) or (line.quantity or 0) >= _LEAST_UNNAMED_G


@dataclass
class Progress:
    """The parts and lines so far; head and method wait until all of the text is known.

    `behind` is the line after the next; the present one is `set_apart` if lines without text are
    before it. `named_by` is how much of the head is before the first yield or time, like its title.
    Whether a line belongs to the present part may be `guessed`.
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
    part_opened: bool = False
    guessed: bool = False
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
    table: TableHead | None = None
    totals: list[tuple[int, Decimal]] = field(default_factory=list)
    doubts: list[Doubt] = field(default_factory=list)

    def open(self, part: WrittenPart, *, guessed: bool = False) -> None:
        """Let the next line begin this part."""
        self.ask_for_empty()
        self.part, self.part_opened, self.guessed = part, False, guessed
        self.opened_at = self.place

    def ask_for_empty(self) -> None:
        """Ask about a part, other than the dough, that a heading opened but no line filled."""
        if not self.part_opened and self.part.kind is not ComponentKind.DOUGH:
            self.doubts.append(EmptyPart(self.part.name))

    def part_number(self) -> int:
        """The number of the part that lines go into now; it is opened with its first line."""
        if not self.part_opened:
            self.parts.append(self.part)
            self.part_opened = True
        return len(self.parts) - 1

    def named_part(self, part: WrittenPart) -> int:
        """The number of the part with this name, created if needed."""
        names = [known.name for known in self.parts]
        if part.name not in names:
            self.parts.append(part)
            return len(self.parts) - 1
        return names.index(part.name)

    def add(
        self,
        text: str,
        part: int,
        more: Iterable[Doubt] = (),
        shown: str = "",
        *,
        bare: bool = False,
    ) -> None:
        """Read a line into a part, with further doubts; `shown` is its text in the source.

        In a list whose numbers are `bare`, one without a unit is taken as grams.
        """
        line = read_line(text, self.book, part)
        if bare and (found := _BARE.match(clean(text))) and _is_unweighed(line):
            line = replace(
                read_line(f"{found['number']} g {found['name']}", self.book, part), text=line.text
            )
            more = (*more, TakenAsGrams())
        told = (*line.doubts, *more, *((PartGuessed(),) if self.guessed else ()))
        shown = clean(shown) or line.text
        self.lines.append(replace(line, text=shown, doubts=told, place=self.place))

    def leave(self, text: str, doubt: Doubt | None = None) -> None:
        """List a text as left out."""
        if shown := clean(text):
            self.left_over.append(LeftOver(shown, doubt, self.place))

    def use(self) -> None:
        """Note that the present place went into the head, or opens a part or the method."""
        self.used.append(self.place)

    def say(self, text: str) -> None:
        """Store a text of the method until everything is known."""
        self.method.append(Said(text, self.place))

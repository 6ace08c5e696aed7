"""What a line has said so far: amounts in groups, the words of its name, its notes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from decimal import Decimal

from recipes.core.units import Measures
from recipes.importing.amounts import measure_doubts
from recipes.importing.amounts.measures import (
    Groups,
    is_compound,
    is_range,
    kind_of,
    ranged,
    together,
)
from recipes.importing.doubts import Doubt
from recipes.importing.text.numbers import Amount
from recipes.importing.text.segments import Bracket, Item, Segment, span
from recipes.importing.text.tokens import Token
from recipes.importing.text.words import JOINERS

SUM, RANGE, EQUAL = "sum", "range", "equal"
MARK_JOINERS = {"-": RANGE, "to": RANGE, "/": EQUAL, "or": EQUAL, "~": EQUAL}


@dataclass
class Phrases:
    """Amounts in groups to be summed, each a list of equals; the words of the name; notes.

    `whole` are amounts in a bracket behind a sum, which may say all of it again. `tails` are
    segments after the name that may still belong to it, such as `unsalted`; notes stand at their
    positions in the text.
    """

    tokens: Sequence[Token]
    text: str
    groups: Groups = field(default_factory=list)
    whole: list[Amount] = field(default_factory=list)
    percent: Decimal | None = None
    name: list[Token] = field(default_factory=list)
    tails: list[Segment] = field(default_factory=list)
    notes: list[tuple[int, str]] = field(default_factory=list)
    doubts: list[Doubt] = field(default_factory=list)
    choice: list[Token] = field(default_factory=list)
    joiner: str = ""

    def note(self, items: Sequence[Item]) -> None:
        """Keep items as a note in their own words."""
        if items:
            start, end = span(items, self.tokens)
            text = self.text[start:end]
            lone = text.startswith("(") and ")" not in text
            text = text[1:] if lone else text
            self.notes.append((start, text))
            if any(map(_measures, items)):
                self.doubts.append(measure_doubts.AmountAside(text))

    def add(self, amount: Amount, *, equal: bool = False) -> None:
        """Add an amount to the others: summed, as a range, or as another way to give it."""
        joiner, self.joiner = (EQUAL if equal else self.joiner), ""
        if amount.percent:
            self.percent = amount.low if self.percent is None else self.percent
            return
        last = self.groups[-1][-1] if self.groups else None
        if last is None or joiner == SUM:
            if last and last.unit is None:
                self.groups[-1][-1] = replace(last, unit=amount.unit)
            self.groups.append([amount])
        elif not joiner and is_compound(last, amount):
            self.groups[-1][-1] = together(last, amount)
        elif joiner == RANGE and is_range(last, amount):
            self.groups[-1][-1] = ranged(last, amount)
        elif any(len(group) == 1 for group in self.groups[:-1]):
            self.whole.append(amount)
        else:
            self.groups[-1].append(amount)

    def join(self, word: str) -> None:
        """Remember how the next amount joins the last one."""
        self.joiner = SUM if word in JOINERS else MARK_JOINERS.get(word, self.joiner)


def _measures(item: Item) -> bool:
    """Whether there is a mass or a volume here, in brackets or not."""
    if isinstance(item, Bracket):
        return any(map(_measures, item.items))
    return isinstance(item, Amount) and kind_of(item) in (Measures.MASS, Measures.VOLUME)

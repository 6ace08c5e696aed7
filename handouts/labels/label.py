"""A label as a value, and the words that several kinds of labels print."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum

from classes.core.regions import Region
from handouts.paper import PaperHead
from handouts.safety.values import Hazard
from handouts.station_shapes import Shapes
from recipes.core.allergens import Allergen, AllergensFound
from wording.figures import NBSP

BLANK, LONG_BLANK = "_" * 6, "_" * 12
_SAME = {"eggs": "egg", "nuts": "tree-nuts", "crustaceans": "crustacean-shellfish"}


class Role(StrEnum):
    """What a block of a label is, which says how large it is set."""

    CONTENT = "content"
    HOLDS = "holds"
    CHECK = "check"
    NOTE = "note"


@dataclass(frozen=True, slots=True)
class LabelBlock:
    """Lines of a label that stay together: a mass in grams or none, and words.

    `shorter` says the same in less room, for what must stay in one line. Of names in a row those in
    `strong` are bold.
    """

    text: str
    grams: str = ""
    role: Role = Role.NOTE
    shorter: tuple[str, ...] = ()
    strong: tuple[str, ...] = ()

    @property
    def words(self) -> str:
        """Such as `1035 g Bread flour`."""
        return f"{self.grams}{NBSP}g {self.text}" if self.grams else self.text

    @property
    def runs(self) -> tuple[tuple[str, bool], ...]:
        """The words in runs, each with whether it is bold."""
        head, colon, names = self.text.partition(": ") if self.strong else (self.text, "", "")
        found = [(head + colon, False)]
        rest = names
        while rest:
            known = [name for name in self.strong if rest.startswith(name)]
            name = max(known, key=len, default="") or rest.partition(", ")[0]
            after = rest[len(name) :]
            gap = ", " if after.startswith(", ") else ""
            found += [(name, bool(known)), (gap, False)]
            rest = after[len(gap) :]
        return tuple(found)


@dataclass(frozen=True)
class Label:
    """One label: where it belongs, what is in it, and the lines below.

    `sum_g` is the sum of the contents in grams, empty if nothing is weighed. `shapes` are those of
    its station, and `marks` what sets it apart, such as `Cold`. The place is set large, or what is
    in it where `title_leads`.
    """

    holder: str
    title: str
    about: str
    contents: tuple[LabelBlock, ...]
    lines: tuple[LabelBlock, ...]
    allergens: AllergensFound
    sum_g: str = ""
    is_cold: bool = False
    shapes: Shapes = ()
    marks: tuple[str, ...] = ()
    title_leads: bool = False

    @property
    def over(self) -> str:
        """What is set large."""
        return self.title if self.title_leads else self.holder

    @property
    def under(self) -> str:
        """What is set below that."""
        return self.holder if self.title_leads else self.title


def allergen_names(found: AllergensFound, region: Region) -> tuple[str, ...]:
    """The allergens entered, those of the region's own list first and in its words.

    What both lists name is said once.
    """
    us = [(allergen.key, allergen) for allergen in found.us]
    eu = [(_SAME.get(allergen.key, allergen.key), allergen) for allergen in found.eu]
    named: dict[str, Allergen] = {}
    for key, allergen in (*eu, *us) if region is Region.EUROPE else (*us, *eu):
        named.setdefault(key, allergen)
    return tuple(allergen.label for allergen in named.values())


def holds_words(found: AllergensFound, region: Region) -> tuple[LabelBlock, ...]:
    """The allergens entered for the contents, `Holds: wheat, milk`; never what they lack."""
    names = ", ".join(allergen_names(found, region))
    words = [f"Holds: {names}" if names else "No allergen entered: ask, read the packs"]
    if found.may_contain:
        traces = "; ".join(f"{name}: {said}" for name, said in found.may_contain)
        words.append(f"May contain: {traces}")
    if found.unknown:
        words.append(f"Cannot say: {', '.join(found.unknown)}")
    return tuple(LabelBlock(text, role=Role.HOLDS) for text in words)


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


def hazards_of_labels(labels: Iterable[Label]) -> frozenset[Hazard]:
    """What can hurt those who fill what is labeled and keep it."""
    cold = {Hazard.CHILLED} if any(label.is_cold for label in labels) else set()
    return frozenset({Hazard.ALLERGENS, *cold})

"""The labels of the tubs: what is weighed into each, and a check on the scale."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime

from classes.plan import ClassPlan
from handouts.kind import AHEAD, Leaves, Material, PaperKind, Phase, only
from handouts.labels.label import (
    BLANK,
    LONG_BLANK,
    Label,
    LabelBlock,
    Role,
    cold_words,
    discard_words,
    hazards_of_labels,
    holds_words,
)
from handouts.labels.layout import LabelPaper
from handouts.labels.sheets import LabelLayout
from handouts.labels.tubs import FilledTub, TubLine, tubs_of
from handouts.paper import PaperHead, paper_head
from handouts.station_shapes import Shapes, shapes_of
from recipes.core.allergens import found_in
from wording.figures import NBSP
from wording.masses import about, grams


@dataclass(frozen=True, kw_only=True)
class TubLabels(LabelPaper):
    """A label for every tub that is weighed for a class. It has no place for anything private."""

    name = "Tub labels"


def tub_labels(plan: ClassPlan, printed_at: datetime, layout: LabelLayout) -> tuple[TubLabels, ...]:
    """The tub labels of a class, for label sheets of some layout. Raises NothingTaught."""
    head, shapes = paper_head(plan, printed_at), shapes_of(plan.stations)
    apart = frozenset(taught.key for taught in plan.apart)
    labels = tuple(
        _label(tub, head, shapes.get(tub.holder, ()), apart)
        for tub in tubs_of(plan.amounts.recipes, plan.ingredients)
    )
    return (TubLabels(head=head, hazards=hazards_of_labels(labels), layout=layout, labels=labels),)


def _label(tub: FilledTub, at: PaperHead, shapes: Shapes, apart: frozenset[str]) -> Label:
    found = found_in(tub.ingredients)
    sum_g = grams(tub.sum_g)
    return Label(
        holder=tub.holder,
        title=tub.title,
        about=tub.recipe,
        contents=tuple(LabelBlock(_words(line), line.shown, Role.CONTENT) for line in tub.lines),
        lines=(*holds_words(found, at.region), gross(sum_g), *_cooked(tub), *_dates(tub, at)),
        allergens=found,
        sum_g=sum_g,
        is_cold=tub.is_cold,
        shapes=shapes,
        marks=("Variant",) * (tub.taught in apart) + ("Cold",) * tub.is_cold,
    )


def _words(line: TubLine) -> str:
    return f"{line.name} ({line.how})" if line.how else line.name


def gross(sum_g: str) -> LabelBlock:
    """The check on the scale, in one line: tub and gross mass are filled in by hand."""
    long, middle, short = (
        words.replace(" ", NBSP)
        for words in (
            f"Tub empty {BLANK} g + contents {sum_g} g = gross {BLANK} g",
            f"Tub {BLANK} + {sum_g} g = gross {BLANK} g",
            f"Tub {BLANK[1:]} + {sum_g} g = {BLANK[1:]} g",
        )
    )
    return LabelBlock(long, role=Role.CHECK, shorter=(middle, short))


def _cooked(tub: FilledTub) -> Iterator[LabelBlock]:
    if tub.cooked_g is not None and tub.made_up_g is not None:
        cooked, made_up = about(tub.cooked_g), about(tub.made_up_g)
        yield LabelBlock(f"Cooked about {cooked}{NBSP}g; top up with water to {made_up}{NBSP}g")


def _dates(tub: FilledTub, at: PaperHead) -> Iterator[LabelBlock]:
    if tub.is_cold:
        yield cold_words(at)
    yield LabelBlock(f"Weighed on{NBSP}{LONG_BLANK} by{NBSP}{LONG_BLANK}")
    yield discard_words(at, keeps=tub.keeps)


def _leaves(material: Material) -> Leaves:
    return only(tub_labels(material.plan, material.at, material.sheets.labels))


KIND = PaperKind(
    "tub-labels",
    "Tub labels",
    "For each station and part: what is in it, grams, allergens, and until when.",
    AHEAD,
    _leaves,
    are_labels=True,
    until=Phase.MORNING,
    usual_pages=2,
)

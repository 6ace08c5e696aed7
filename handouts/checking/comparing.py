"""All papers of a class compared with each other, and with its exported amounts."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from decimal import Decimal
from typing import Any

from classes.amounts.exporting import FROM_TUB, amounts_document
from classes.core.hours.drawing.spans import ActivityKind
from classes.core.hours.drawing.table import TimeRow, rows_of
from classes.hours.shown import labels
from handouts.catalog import KINDS
from handouts.checking.agreement import Agreement, PlacedFigure, compare, text_of
from handouts.checking.figures import Breads, PaperFigure, figures_of
from handouts.kind import Material, NotPrinted
from handouts.press.render import to_html
from wording.figures import plain

EXPORT, HOURS = "Export of the amounts", "Hours page"


def check(material: Material) -> Agreement:
    """Whether the papers of a class agree. Raises NotPrinted if none can be made."""
    plan, figures, texts = material.plan, [], {}
    titles, kitchen = tuple(taught.title for taught in plan.taught), plan.kitchen
    breads = Breads(titles, kitchen.altitude_m, kitchen.writing)
    for where, paper in _papers(material):
        texts[where] = text_of(to_html(paper))
        figures += [_figure(said, where) for said in figures_of(paper, breads)]
    figures += [_figure(said, EXPORT) for said in _exported(amounts_document(plan))]
    figures += [_figure(said, HOURS) for said in _of_hours(material, breads)]
    return compare(figures, texts)


def _papers(material: Material) -> Iterator[tuple[str, Any]]:
    for kind in KINDS:
        try:
            leaves = kind.leaves(material)
        except NotPrinted:
            continue
        for leaf in leaves:
            yield f"{kind.title}, {leaf.label}" if leaf.label else kind.title, leaf.paper


def _figure(said: PaperFigure, where: str) -> PlacedFigure:
    """A figure; one that only needs to be found in print has no name of its own."""
    of = said.of or f"{where}: {said.printed}"
    return PlacedFigure(of, said.value, where, said.printed)


# What the export and the hours page say


def _exported(document: dict[str, Any]) -> Iterator[PaperFigure]:
    for entry in document["students"]:
        at = f"{entry['recipe']}, {entry['station']}, {entry['name']}"
        if _is_alone(entry, document["students"]):
            yield from _of_entry(entry, at)
    for entry in document["stations"]:
        at = f"{entry['recipe']}, {entry['station']}"
        yield PaperFigure(f"{at}, dough", f"{entry['dough_weighed_g']} g")
        yield from _of_tubs(entry, at)
    for entry in document["pooled"]:
        yield from _of_entry(entry, f"{entry['recipe']}, for everybody")
    for tub in document["divided"]:
        for share in tub["shares"]:
            of = f"{tub['recipe']}, {share['name']}, {tub['component']} from the tub"
            yield PaperFigure(of, f"{share['weighed_g']} g")
    for line in document["shopping"]:
        yield PaperFigure(f"needed, {line['ingredient']}", f"{Decimal(line['exact_g']):.6f} g")


def _is_alone(entry: dict[str, Any], entries: Iterable[dict[str, Any]]) -> bool:
    """Whether nobody else at the bench has the same name."""
    keys = Counter((entry["name"], entry["station"], entry["recipe"]) for entry in entries)
    return keys[entry["name"], entry["station"], entry["recipe"]] == 1


def _of_entry(entry: dict[str, Any], at: str) -> Iterator[PaperFigure]:
    yield PaperFigure(f"{at}, dough", f"{entry['dough_weighed_g']} g")
    yield from _of_tubs(entry, at)
    for line in entry["lines"]:
        if line["ingredient"] != FROM_TUB:
            yield PaperFigure(
                f"{at}, {line['component']}: {line['ingredient']}", f"{line['weighed_g']} g"
            )


def _of_tubs(entry: dict[str, Any], at: str) -> Iterator[PaperFigure]:
    for line in entry["lines"]:
        if line["ingredient"] == FROM_TUB:
            yield PaperFigure(f"{at}, {line['component']} from the tub", f"{line['weighed_g']} g")


def _of_hours(material: Material, breads: Breads) -> Iterator[PaperFigure]:
    try:
        hours = material.hours
    except NotPrinted:
        return
    if hours.solved is None:
        return
    label = labels(hours)
    rows = rows_of(hours.scheduled, hours.solved.plan, label)
    bakes = sorted(
        (row for row in rows if row.kind is ActivityKind.BAKE), key=lambda row: row.starts
    )
    counted: Counter[str] = Counter()
    for row in bakes:
        oven = row.where.partition(",")[0]
        counted[oven] += 1
        at = f"{oven}, load {counted[oven]}"
        yield PaperFigure(f"{at}, in", row.from_label)
        yield PaperFigure(f"{at}, out", row.to_label)
        yield from _of_bake(row, breads)


def _of_bake(row: TimeRow, breads: Breads) -> Iterator[PaperFigure]:
    """The minutes are also those between the times of the load, minus the loading."""
    bread, time = breads.in_words(row.recipe), row.oven_time
    if time and " and " not in row.recipe:
        yield PaperFigure(f"{bread}, in the oven", f"{row.ends - row.starts - time.load_min} min")
        yield PaperFigure(f"{bread}, in the oven", f"{time.bake_min} min")
        yield PaperFigure(f"{bread}, loading", f"{time.load_min} min")
    if row.temperature_c is not None:
        yield PaperFigure(f"{bread}, oven", f"{plain(row.temperature_c)} °C")

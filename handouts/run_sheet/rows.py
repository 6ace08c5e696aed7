"""The rows of a run sheet: the plan by the clock, as it is carried out at the benches.

Times and windows are the plan's own, through its table; nothing is planned here. A rise stands with
the work before it, the work that ends it has its window and its sign, all loads of a minute share a
row, and every load has a row when it comes out. What is said once is not said again.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Mapping, Set
from dataclasses import replace
from decimal import Decimal

from classes.core.hours.advice.critical import ChainLink, What, Why
from classes.core.hours.drawing.spans import ActivityKind, Between, spans_of, who_is
from classes.core.hours.drawing.table import TimeRow, rows_of
from classes.core.hours.problem.keys import WELCOME
from classes.core.hours.problem.steps import in_class
from classes.core.hours.problem.values import RISES, TimedRecipe
from handouts.run_sheet.course import Aim, ClassCourse, HandLine, LoadLine, Rest, RunRow
from handouts.run_sheet.machines import hand_lines
from handouts.run_sheet.rests import WAITS, Rests, is_link, rests_of
from recipes.core.choices import TemperatureOf

# What comes first in a minute: bread out, dough put away, ovens, and then new work.
_ORDER = (
    ActivityKind.COOL,
    ActivityKind.RISE,
    ActivityKind.REST,
    ActivityKind.HEAT,
    ActivityKind.BAKE,
    ActivityKind.WATCH,
    ActivityKind.HANDS,
    ActivityKind.BREAK,
)
_OVENS = frozenset({ActivityKind.BAKE, ActivityKind.COOL, ActivityKind.HEAT})
_SCARCE = frozenset(
    {Why.OVEN, Why.MIXER, Why.INSTRUCTOR, Why.BUSY, Why.CABINET, Why.REFRIGERATOR, Why.SAME_LOAD}
)


def course_rows(course: ClassCourse) -> tuple[RunRow, ...]:
    """The class by the clock, from its start."""
    found = [*_table_rows(course), *_ahead_rows(course), *_marks(course)]
    found.sort(key=lambda row: (row.starts, row.is_mark, _ORDER.index(row.kind)))
    return tuple(_told_once(found))


def _told_once(rows: list[RunRow]) -> Iterator[RunRow]:
    """The rows without what an earlier row says, or what is the sign that ends a rise."""
    signs: dict[tuple[str, str], str] = {}
    for row in rows:
        for aim in row.aims:
            signs.setdefault((row.recipe, aim.sign), row.clock)
    told: set[object] = set()
    for row in rows:
        at = signs.get((row.recipe, row.wait_for), "")
        yield _without_told(replace(row, wait_at=at), told | signs.keys(), told)
        told.update((row.recipe, aim.sign) for aim in row.aims)


def _without_told(row: RunRow, said: Set[object], told: set[object]) -> RunRow:
    """The row without its words among those `said`; what is left of them becomes `told`."""
    of = row.hands if row.is_ahead else row.recipe
    new = [words for words in _sentences(row) if (of, words) not in said]
    baked, done = (row.recipe, row.oven_time), (row.recipe, row.cores)
    left = replace(
        row,
        text=" ".join(new),
        aims=tuple(replace(aim, is_told=(row.recipe, aim.sign) in told) for aim in row.aims),
        rests=tuple(replace(rest, is_told=_warmth(row, rest) in told) for rest in row.rests),
        oven_time=None if baked in told else row.oven_time,
        is_told=done in told,
    )
    told.update((of, words) for words in new)
    told.update(_warmth(row, rest) for rest in row.rests)
    told.update((baked, done))
    return left


def _warmth(row: RunRow, rest: Rest) -> tuple[object, ...]:
    return row.recipe, rest.place, rest.temperature_c


def _sentences(row: RunRow) -> list[str]:
    """What is done with ovens and the cabinet by sentence; the words of a recipe as they are."""
    return re.split(r"(?<=\.) ", row.text) if row.is_ahead else row.text.split("\n")


# From the table


def _table_rows(course: ClassCourse) -> Iterator[RunRow]:
    rows = rows_of(course.scheduled, course.plan, course.label)
    rests, betweens = rests_of(course, rows), _betweens(course)
    bakes = [row for row in rows if row.kind is ActivityKind.BAKE]
    cools = [row for row in rows if row.kind is ActivityKind.COOL]
    work = [row for row in rows if row.kind not in _OVENS | WAITS]
    for together in _together(work, _same_work):
        yield _row(course, together, betweens, rests)
    yield from rests.alone({key for row in work for key in row.keys})
    for together in _together(bakes, lambda row: (row.starts, row.ends, row.recipe, row.text)):
        yield _loaded(course, together, betweens)
    for together in _together(bakes, lambda row: (row.ends, row.recipe)):
        yield _taken_out(course, together, cools)


def _together(rows: Iterable[TimeRow], key: Callable[[TimeRow], object]) -> Iterator[list[TimeRow]]:
    groups: dict[object, list[TimeRow]] = {}
    for row in rows:
        groups.setdefault(key(row), []).append(row)
    yield from groups.values()


def _same_work(row: TimeRow) -> object:
    """Hands at the same step at the same time are one line, wherever they are."""
    if row.kind is ActivityKind.HANDS:
        return row.starts, row.ends, row.what, row.recipe, row.text
    return row


def _betweens(course: ClassCourse) -> Mapping[str, tuple[Between, str]]:
    """The window for what follows a rise or a rest, by its key, and the sign that ends it."""
    return {
        span.item: (span.between, _sign(course, span.item, span.text))
        for span in spans_of(course.scheduled, course.plan)
        if span.between is not None
    }


def _sign(course: ClassCourse, key: str, text: str) -> str:
    """The step's own words, except for a fold, which goes by the clock."""
    return "" if _is_fold(course, key) else text


def _is_fold(course: ClassCourse, key: str) -> bool:
    return course.scheduled.notes[key].kind in RISES


def _aims(
    course: ClassCourse, keys: Iterable[str], betweens: Mapping[str, tuple[Between, str]]
) -> tuple[Aim, ...]:
    found = dict.fromkeys(betweens[key] for key in keys if key in betweens)
    label = course.label
    return tuple(
        Aim(label(aim.best), label(aim.earliest), label(aim.latest), sign) for aim, sign in found
    )


def _row(
    course: ClassCourse,
    rows: list[TimeRow],
    betweens: Mapping[str, tuple[Between, str]],
    rests: Rests,
) -> RunRow:
    row, keys = rows[0], [key for line in rows for key in line.keys]
    recipes, hands = course.recipes_of(keys), tuple(hand_lines(course, rows))
    is_watched = row.kind is ActivityKind.WATCH
    return _marked(
        course,
        rows,
        RunRow(
            starts=row.starts,
            kind=row.kind,
            clock=row.from_label,
            until=row.to_label,
            what=row.what,
            hands=hands,
            recipe=row.recipe,
            text=_shown(recipes, row) if is_watched else row.text,
            temperature_c=row.temperature_c,
            temperature_of=_whose(row.temperature_of),
            rests=rests.after(keys, named=len(hands) > 1),
            aims=_aims(course, keys, betweens),
            wait_for=_wait_for(recipes, row) if is_watched else "",
            dough_c=_dough_c(course, recipes, row),
            is_welcome=WELCOME in keys,
        ),
    )


def _whose(of: TemperatureOf | None) -> str:
    return of.label.lower() if of else ""


def _marked(course: ClassCourse, rows: Iterable[TimeRow], row: RunRow) -> RunRow:
    """The row, marked critical if anything in it is."""
    marks = [_critical(course, line) for line in rows]
    because = next((why for _, why in marks if why), "")
    return replace(row, is_critical=any(critical for critical, _ in marks), because=because)


def _shown(recipes: Iterable[TimedRecipe], row: TimeRow) -> str:
    steps = (step for recipe in recipes for step in in_class(recipe) if step.kind is row.step)
    return "\n".join(step.text for step in steps)


def _wait_for(recipes: Iterable[TimedRecipe], row: TimeRow) -> str:
    """What the dough does in the rise after what is shown."""
    for recipe in recipes:
        steps = in_class(recipe)
        at = next((n for n, step in enumerate(steps) if step.kind is row.step), len(steps))
        for step in steps[at:]:
            if step.kind in RISES:
                return step.text
    return ""


def _dough_c(course: ClassCourse, recipes: list[TimedRecipe], row: TimeRow) -> Decimal | None:
    """What to measure if the work of a row finishes mixing the dough."""
    mixed = any(course.scheduled.notes[key].mixes_dough for key in row.keys)
    return recipes[0].dough_c if mixed and recipes else None


# Ovens


def _loaded(
    course: ClassCourse, rows: list[TimeRow], betweens: Mapping[str, tuple[Between, str]]
) -> RunRow:
    first = rows[0]
    return _marked(
        course,
        rows,
        RunRow(
            starts=first.starts,
            kind=ActivityKind.BAKE,
            clock=first.from_label,
            until=first.to_label,
            what="Into the oven",
            hands=(_everybody(course, rows),),
            recipe=first.recipe,
            text=first.text,
            temperature_c=first.temperature_c,
            lacks_heat=first.temperature_c is None,
            aims=_aims(course, [key for row in rows for key in row.keys], betweens),
            loads=_lines(rows),
            oven_time=first.oven_time,
        ),
    )


def _everybody(course: ClassCourse, rows: Iterable[TimeRow]) -> HandLine:
    return HandLine(course.everybody(who for row in rows for who in row.who))


def _lines(rows: Iterable[TimeRow]) -> tuple[LoadLine, ...]:
    found = []
    for row in sorted(rows, key=lambda row: row.where):
        oven, _, filled = row.where.rpartition(", ")
        found.append(LoadLine(oven, filled.removesuffix(" places"), row.holds))
    return tuple(found)


def _taken_out(course: ClassCourse, rows: list[TimeRow], cools: Iterable[TimeRow]) -> RunRow:
    first = rows[0]
    keys = [key for row in rows for key in row.keys]
    cooled = [row for row in cools if row.starts == first.ends and set(row.keys) & set(keys)]
    cores = dict.fromkeys(course.cores.get(recipe.key) for recipe in course.recipes_of(keys))
    return _marked(
        course,
        cooled,
        RunRow(
            starts=first.ends,
            kind=ActivityKind.COOL,
            clock=first.to_label,
            until=max((row.to_label for row in cooled), default=""),
            what="Out of the oven",
            hands=(_everybody(course, rows),),
            recipe=first.recipe,
            text=" ".join(dict.fromkeys(row.text for row in cooled if row.text)),
            loads=_lines(rows),
            cores=tuple(core for core in cores if core is not None),
        ),
    )


# What is done meanwhile, and what decides


def _ahead_rows(course: ClassCourse) -> Iterator[RunRow]:
    ovens = {oven.key for oven in course.scheduled.work.ovens}
    for task in course.ahead:
        if task.starts >= 0:
            yield RunRow(
                starts=task.starts,
                kind=ActivityKind.HEAT,
                clock=course.label(task.starts),
                until=course.label(task.ready_by),
                what=task.title,
                hands=(HandLine(task.who),),
                text=task.text,
                temperature_c=task.temperature_c,
                temperature_of=_whose(task.temperature_of),
                why=task.why,
                is_ahead=True,
                is_ovens=bool(ovens & set(task.key.split("|"))),
            )


def _marks(course: ClassCourse) -> Iterator[RunRow]:
    """The end of the bread and of the class, which are one line if the bread is on time."""
    ready = course.plan.ready(course.scheduled.problem)
    ends = course.scheduled.work.hours.minutes
    label = course.label
    cooled = "The last bread has cooled" if course.plan.loads else "The plan ends here"
    if ready <= ends:
        cooled = f"{cooled}; the class ends at {label(ends)}"
    else:
        yield RunRow(
            ends, ActivityKind.COOL, label(ends), "", "The class was to end here", is_mark=True
        )
    yield RunRow(ready, ActivityKind.COOL, label(ready), "", cooled, is_mark=True)


def _critical(course: ClassCourse, row: TimeRow) -> tuple[bool, str]:
    """Whether the row is a link of the deciding chain, and what it had to wait for."""
    for n, link in enumerate(course.critical):
        if link.what is not What.RESOURCE and _is_row(link, row):
            before = course.critical[n - 1] if n else link
            why = before.why if before.what is What.RESOURCE else link.why
            return True, why.value if why in _SCARCE else ""
    return False, ""


def _is_row(link: ChainLink, row: TimeRow) -> bool:
    if link.what is What.WAIT and row.kind is ActivityKind.COOL:
        return is_link([link], row)
    return link.starts == row.starts and link.title == row.what and who_is(link.who) in row.who

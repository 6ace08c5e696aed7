"""The rows of a run sheet: the plan by the clock, as it is carried out at the benches.

Times and windows are the plan's own, through its table; nothing is planned here. The work that ends
a rise has its window and its sign, all loads of a minute share a row, and every load has a row when
it comes out.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import replace
from decimal import Decimal

from classes.core.hours.advice.critical import ChainLink, What, Why
from classes.core.hours.drawing.spans import PLACES, ActivityKind, Between, spans_of, who_is
from classes.core.hours.drawing.table import TimeRow, rows_of
from classes.core.hours.problem.keys import CABINET, REFRIGERATOR, WELCOME
from classes.core.hours.problem.steps import in_class
from classes.core.hours.problem.values import RISES, TimedRecipe
from handouts.run_sheet.course import Aim, ClassCourse, LoadLine, RunRow
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
_WAITS = frozenset(
    {Why.OVEN, Why.MIXER, Why.INSTRUCTOR, Why.BUSY, Why.CABINET, Why.REFRIGERATOR, Why.SAME_LOAD}
)


def course_rows(course: ClassCourse) -> tuple[RunRow, ...]:
    """The class by the clock, from its start."""
    found = [*_table_rows(course), *_ahead_rows(course), *_marks(course)]
    found.sort(key=lambda row: (row.starts, row.is_mark, _ORDER.index(row.kind)))
    return tuple(_told_once(found))


def _told_once(rows: Iterable[RunRow]) -> Iterator[RunRow]:
    """The rows; one that repeats an earlier row refers to it by its time."""
    told: dict[object, str] = {}
    for row in rows:
        said = (row.what, row.recipe, row.text, row.cores, *(aim.sign for aim in row.aims))
        if row.text and not row.is_ahead and said in told:
            yield replace(row, as_at=told[said])
        else:
            told[said] = row.clock
            yield row


# From the table


def _table_rows(course: ClassCourse) -> Iterator[RunRow]:
    rows = rows_of(course.scheduled, course.plan, course.label)
    betweens = _betweens(course)
    bakes = [row for row in rows if row.kind is ActivityKind.BAKE]
    cools = [row for row in rows if row.kind is ActivityKind.COOL]
    others = [
        row
        for row in rows
        if row.kind not in (ActivityKind.BAKE, ActivityKind.COOL, ActivityKind.HEAT)
    ]
    for together in _together(others, _same_work):
        yield _row(course, together, betweens)
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
    course: ClassCourse, rows: list[TimeRow], betweens: Mapping[str, tuple[Between, str]]
) -> RunRow:
    row, keys = rows[0], [key for line in rows for key in line.keys]
    waits = row.kind in (ActivityKind.RISE, ActivityKind.REST)
    recipes = course.recipes_of(keys)
    return _marked(
        course,
        rows,
        RunRow(
            starts=row.starts,
            kind=row.kind,
            clock=row.from_label,
            until=row.to_label,
            what=row.what,
            hands=tuple((course.everybody(line.who), line.where) for line in rows),
            recipe=row.recipe,
            text="" if waits else row.text,
            temperature_c=row.temperature_c,
            temperature_of=_whose(row.temperature_of),
            stands=_stands(course, row) if waits else "",
            aims=() if waits else _aims(course, keys, betweens),
            show=_shown(recipes, row) if row.kind is ActivityKind.WATCH else "",
            wait_for=_wait_for(recipes, row) if row.kind is ActivityKind.WATCH else "",
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
    return " ".join(step.text for step in steps)


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


def _stands(course: ClassCourse, row: TimeRow) -> str:
    """How many places of the cabinet or the refrigerator are taken when dough comes there."""
    resource = next((place for place in (CABINET, REFRIGERATOR) if PLACES[place] == row.where), "")
    capacity = course.scheduled.problem.capacity.get(resource)
    if capacity is None:
        return ""
    taken = sum(
        stay.amount
        for stay in course.scheduled.problem.stays
        if stay.resource == resource and _is_there(course, stay.after, stay.until, row.starts)
    )
    return f"{taken} of {capacity} places"


def _is_there(course: ClassCourse, after: str, until: str, minute: int) -> bool:
    problem, plan = course.scheduled.problem, course.plan
    return plan.end(problem, after) <= minute < plan.last_start(problem, until)


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
            hands=((course.everybody(who for row in rows for who in row.who), ""),),
            recipe=first.recipe,
            text=first.text,
            temperature_c=first.temperature_c,
            lacks_heat=first.temperature_c is None,
            aims=_aims(course, [key for row in rows for key in row.keys], betweens),
            loads=_lines(rows),
            oven_time=first.oven_time,
        ),
    )


def _lines(rows: Iterable[TimeRow]) -> tuple[LoadLine, ...]:
    return tuple(LoadLine(row.where, row.holds) for row in sorted(rows, key=lambda row: row.where))


def _taken_out(course: ClassCourse, rows: list[TimeRow], cools: Iterable[TimeRow]) -> RunRow:
    first = rows[0]
    keys = [key for row in rows for key in row.keys]
    cooled = [row for row in cools if row.starts == first.ends and set(row.keys) & set(keys)]
    cores = dict.fromkeys(course.cores.get(recipe.key) for recipe in course.recipes_of(keys))
    who = course.everybody(who for row in rows for who in row.who)
    return _marked(
        course,
        cooled,
        RunRow(
            starts=first.ends,
            kind=ActivityKind.COOL,
            clock=first.to_label,
            until=max((row.to_label for row in cooled), default=""),
            what="Out of the oven",
            hands=((who, cooled[0].where if cooled else ""),),
            recipe=first.recipe,
            text=" ".join(dict.fromkeys(row.text for row in cooled if row.text)),
            loads=_lines(rows),
            cores=tuple(core for core in cores if core is not None),
        ),
    )


# What is done meanwhile, and what decides


def _ahead_rows(course: ClassCourse) -> Iterator[RunRow]:
    for task in course.ahead:
        if task.starts >= 0:
            yield RunRow(
                starts=task.starts,
                kind=ActivityKind.HEAT,
                clock=course.label(task.starts),
                until=course.label(task.ready_by),
                what=task.title,
                hands=((task.who, ""),),
                text=task.text,
                temperature_c=task.temperature_c,
                temperature_of=_whose(task.temperature_of),
                why=task.why,
                is_ahead=True,
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
            return True, why.value if why in _WAITS else ""
    return False, ""


def _is_row(link: ChainLink, row: TimeRow) -> bool:
    """A rise with a fold is one link and several rows."""
    is_wait = link.what is What.WAIT and row.kind in (
        ActivityKind.RISE,
        ActivityKind.REST,
        ActivityKind.COOL,
    )
    is_in_time = link.starts <= row.starts < link.ends if is_wait else link.starts == row.starts
    return is_in_time and link.title == row.what and who_is(link.who) in row.who

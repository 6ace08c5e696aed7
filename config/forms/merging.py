"""A form that was open while somebody else saved: a three-way merge, field by field.

What its user did not touch stays as it is saved now; what only the user changed is taken; what both
changed differently is a clash, for the user to decide.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Any

from django.forms import BaseForm, BaseFormSet, BoundField
from django.http import QueryDict

from config.forms.clashes_shown import BOTH, MINE, THEIRS, WRITE, Clash, field_clash, row_words
from config.forms.seen import (
    SEEN,
    Marks,
    Part,
    Row,
    Seen,
    Values,
    asked_fields,
    mark_of,
    plain,
    posted,
    prefix_of,
    read_seen,
    saved_rows,
    shown,
)

CHOOSE, MARKED, WRITTEN = "choose-", "theirs-", "write-"
GONE = "gone"
# What must not be lost unseen: a form that does not say what it showed, showed none of it.
PRECIOUS = ("must_not_eat", "allergens", "diet")
_EMPTY = mark_of(())
_Row = dict[str, list[str]]


@dataclass
class Merged:
    """The data to check and save, what must be decided first, and what others changed."""

    data: QueryDict
    clashes: list[Clash] = field(default_factory=list)
    others: list[str] = field(default_factory=list)


def merge(data: QueryDict, parts: Iterable[Part]) -> Merged:
    """Merge what was posted with what unbound `parts` show of the saved rows."""
    merger = _Merger(data)
    for part in parts:
        if isinstance(part, BaseFormSet):
            merger.merge_rows(part)
        else:
            merger.merge_form(part)
    merger.look_for_lost()
    return merger.merged


class _Merger:
    def __init__(self, data: QueryDict) -> None:
        self.data = data
        self.merged = Merged(data.copy())
        found = read_seen(data.get(SEEN, ""))
        self.told, self.seen = found is not None, found or Seen()
        self.met: set[str] = set()

    def merge_form(self, form: BaseForm) -> None:
        instance = getattr(form, "instance", None)
        where = f"{instance}: " if form.prefix and instance is not None else ""
        for bound in asked_fields(form):
            name = bound.html_name
            self.met.add(name)
            values = self._decided(
                bound, name, where, posted(bound, self.data, name), self.seen.fields.get(name)
            )
            if values is not None:
                self.merged.data.setlist(name, list(values))

    def _decided(
        self, bound: BoundField, key: str, where: str, mine: Values, mark: str | None
    ) -> Values | None:
        """The value for the field; None leaves it as posted."""
        if mark is None:
            if not self.told and bound.name not in PRECIOUS:
                return None
            mark = _EMPTY if not self.told else mark_of(shown(bound))
        theirs = shown(bound)
        now, label = mark_of(theirs), f"{where}{bound.label}"
        if mark == now or theirs == mine:
            return None if theirs != mine else theirs
        if mark_of(mine) == mark:
            self.merged.others.append(label)
            return theirs
        choice = self._choice(key, now)
        if choice == THEIRS:
            return theirs
        if choice == BOTH:
            return plain({*theirs, *mine})
        if choice == WRITE:
            return (self.data.get(WRITTEN + key, ""),)
        if choice != MINE:
            clash = field_clash(bound, key, label, now, theirs=theirs, mine=mine)
            self.merged.clashes.append(clash)
        return None

    def _choice(self, key: str, mark: str) -> str:
        """The user's choice in a clash, if the other value is still the one they saw."""
        return self.data.get(CHOOSE + key, "") if self.data.get(MARKED + key) == mark else ""

    def look_for_lost(self) -> None:
        """Fields that were shown and no longer exist, with what was written into them."""
        for name in sorted(self.seen.fields.keys() - self.met):
            mine = plain(self.data.getlist(name))
            if mark_of(mine) != self.seen.fields[name] and not self._choice(name, GONE):
                ways = ((THEIRS, "Continue without it"),)
                label = "A part of this page that is no longer there"
                self.merged.clashes.append(Clash(name, label, ("taken out",), mine, ways, GONE))

    # Rows

    def merge_rows(self, formset: BaseFormSet[Any]) -> None:
        """Merge rows by their keys: those posted, in order, then what others added."""
        saved, prefix = saved_rows(formset), prefix_of(formset)
        seen = self.seen.rows.get(prefix, {})
        kept: dict[str, _Row] = {}
        new: list[_Row] = []
        for number, row in _posted_rows(self.data, prefix):
            key = "".join(row.get("id", ()))
            if key in saved:
                kept[key] = self._merged_row(
                    saved[key], f"{prefix}-{key}", f"{prefix}-{number}", row, seen.get(key)
                )
                if not self.told:
                    _write_row(self.merged.data, prefix, number, kept[key])
            else:
                new += self._gone(formset, key, number, row, seen.get(key)) if key else [row]
        if self.told:
            added = {key: _as_shown(row) for key, row in saved.items() if key not in kept}
            for key in added.keys() - seen.keys():
                self.merged.others.append(f"{saved[key].instance} (added)")
            _put_rows(self.merged.data, prefix, [*kept.values(), *added.values()], new)

    def _merged_row(self, form: Row, key: str, sent: str, row: _Row, seen: Marks | None) -> _Row:
        if row.get("DELETE"):
            return self._removed(form, key, row, seen)
        merged = dict(row)
        for bound in asked_fields(form):
            mine = posted(bound, self.data, f"{sent}-{bound.name}")
            mark = seen.get(bound.name) if seen is not None else None
            where = f"{form.instance}: "
            values = self._decided(bound, f"{key}-{bound.name}", where, mine, mark)
            if values is not None:
                merged[bound.name] = list(values)
        return merged

    def _removed(self, form: Row, key: str, row: _Row, seen: Marks | None) -> _Row:
        """A row that the user removes stays if somebody changed it, until that was seen."""
        fields = [(bound, shown(bound)) for bound in asked_fields(form)]
        marks = {bound.name: mark_of(values) for bound, values in fields}
        opened = seen or {}
        changed = [name for name in opened if marks.get(name) != opened[name]]
        now = mark_of(tuple(marks.values()))
        choice = self._choice(key, now) if changed else MINE
        if choice == MINE:
            return row
        if choice != THEIRS:
            ways = ((THEIRS, "Keep the row as it is saved"), (MINE, "Remove it anyway"))
            label = f"{form.instance}"
            theirs = row_words(fields)
            self.merged.clashes.append(Clash(key, label, theirs, ("removed",), ways, now))
        return _as_shown(form)

    def _gone(
        self, formset: BaseFormSet[Any], key: str, number: int, row: _Row, seen: Marks | None
    ) -> list[_Row]:
        """A removed row is left out, unless the user had changed it and wants to keep it."""
        if not self.told or row.get("DELETE"):
            return []
        prefix = prefix_of(formset)
        mine = [
            (bound, posted(bound, self.data, f"{prefix}-{number}-{bound.name}"))
            for bound in asked_fields(formset.empty_form)
        ]
        words = row_words(mine)
        marks = seen or {}
        if all(mark_of(values) == marks.get(bound.name) for bound, values in mine):
            self.merged.others.append(f"{', '.join(words[:1])} (removed)")
            return []
        choice = self._choice(f"{prefix}-{key}", GONE)
        if choice == MINE:
            return [{name: values for name, values in row.items() if name != "id"}]
        if choice != THEIRS:
            ways = ((THEIRS, "Leave it out"), (MINE, "Put it back as you have it"))
            label = "A row that was removed in the meantime"
            clash = Clash(f"{prefix}-{key}", label, ("removed",), words, ways, GONE)
            self.merged.clashes.append(clash)
        return []


def _posted_rows(data: QueryDict, prefix: str) -> list[tuple[int, _Row]]:
    """The rows of a formset as they were posted, with their numbers, in order."""
    pattern = re.compile(rf"{re.escape(prefix)}-([0-9]{{1,4}})-(\w+)", re.ASCII)
    rows: dict[int, _Row] = {}
    for name in data:
        if found := pattern.fullmatch(name):
            rows.setdefault(int(found[1]), {})[found[2]] = data.getlist(name)
    announced = data.get(f"{prefix}-TOTAL_FORMS", "")
    total = int(announced) if re.fullmatch(r"[0-9]{1,4}", announced) else 0
    return sorted((number, row) for number, row in rows.items() if number < total)


def _as_shown(form: Row) -> _Row:
    """A row as a browser posts it if nobody touches it."""
    fields = {bound.name: list(shown(bound)) for bound in asked_fields(form)}
    kept = {name: value for name, value in fields.items() if value}
    return {"id": [str(form.instance.pk)]} | kept


def _put_rows(data: QueryDict, prefix: str, kept: list[_Row], new: list[_Row]) -> None:
    """Renumber the rows of a formset, saved ones first."""
    for number, _ in _posted_rows(data, prefix):
        for name in [key for key in data if key.startswith(f"{prefix}-{number}-")]:
            del data[name]
    for number, row in enumerate([*kept, *new]):
        _write_row(data, prefix, number, row)
    data[f"{prefix}-INITIAL_FORMS"] = str(len(kept))
    data[f"{prefix}-TOTAL_FORMS"] = str(len(kept) + len(new))


def _write_row(data: QueryDict, prefix: str, number: int, row: _Row) -> None:
    for name, values in row.items():
        data.setlist(f"{prefix}-{number}-{name}", values)

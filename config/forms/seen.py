"""What a form showed when it was opened, so that a later save can tell what its user changed.

A page carries a mark of every field it shows instead of the texts.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from hashlib import blake2s
from typing import Any

from django import forms
from django.forms import BaseForm, BaseFormSet, BoundField
from django.forms.models import BaseModelForm
from django.http import QueryDict
from django.utils.datastructures import MultiValueDict

SEEN = "seen"
_FIGURE = re.compile(r"-?[0-9]+\.[0-9]+", re.ASCII)
MARK_BYTES = 6
MOST_LETTERS = 500_000

Row = BaseModelForm[Any]
Values = tuple[str, ...]
Marks = dict[str, str]
Part = BaseForm | BaseFormSet[Any]


@dataclass(frozen=True, slots=True)
class Seen:
    """Marks of what was shown: of fields by name, and of rows by formset, key and field."""

    fields: Marks = field(default_factory=dict)
    rows: dict[str, dict[str, Marks]] = field(default_factory=dict)


def plain(values: Iterable[object]) -> Values:
    """Values as compared: without what browsers change, in a fixed order, 12.00 as 12."""
    texts = (str(value).replace("\r\n", "\n").strip() for value in values)
    return tuple(sorted(_short(text) for text in texts if text))


def _short(text: str) -> str:
    return text.rstrip("0").rstrip(".") if _FIGURE.fullmatch(text) else text


def mark_of(values: Values) -> str:
    """A short mark that differs for different values."""
    return blake2s("\0".join(values).encode(errors="replace"), digest_size=MARK_BYTES).hexdigest()


def shown(bound: BoundField) -> Values:
    """What a browser sends for a field of an unbound form if nobody touches it."""
    widget, value = bound.field.widget, bound.value()
    if isinstance(widget, forms.CheckboxInput):
        return ("on",) if widget.check_test(value) else ()
    found = widget.format_value(value)
    if found is None:
        return ()
    values = plain(found if isinstance(found, list | tuple) else [found])
    if getattr(widget, "allow_multiple_selected", False) and isinstance(widget.choices, list):
        offered = {str(key) for key, _ in widget.choices}
        return tuple(value for value in values if value in offered)
    return values


def posted(bound: BoundField, data: QueryDict, name: str) -> Values:
    """What was sent for a field under a name."""
    if isinstance(bound.field.widget, forms.CheckboxInput):
        ticked = bound.field.widget.value_from_datadict(data, MultiValueDict(), name)
        return ("on",) if ticked else ()
    return plain(data.getlist(name))


def asked_fields(form: BaseForm) -> list[BoundField]:
    """The fields that users fill in."""
    names = (name for name, field in form.fields.items() if name != "DELETE")
    return [form[name] for name in names if not form[name].is_hidden]


def saved_rows(formset: BaseFormSet[Any]) -> dict[str, Row]:
    """The forms of the rows that an unbound formset found, by their keys."""
    initial = formset.initial_forms
    return {str(form.instance.pk): form for form in initial if isinstance(form, BaseModelForm)}


def prefix_of(formset: BaseFormSet[Any]) -> str:
    """The prefix of a formset's field names; Django ensures that it has one."""
    return formset.prefix or formset.get_default_prefix()


def seen_in(parts: Iterable[Part]) -> Seen:
    """Marks of what unbound forms and formsets show."""
    seen = Seen()
    for part in parts:
        if isinstance(part, BaseFormSet):
            seen.rows[prefix_of(part)] = {key: _marks(row) for key, row in saved_rows(part).items()}
        else:
            seen.fields.update(
                {field.html_name: mark_of(shown(field)) for field in asked_fields(part)}
            )
    return seen


def _marks(form: BaseForm) -> Marks:
    return {field.name: mark_of(shown(field)) for field in asked_fields(form)}


def seen_word(parts: Iterable[Part]) -> str:
    """The value of a page's field `SEEN`."""
    seen = seen_in(parts)
    return json.dumps({"fields": seen.fields, "rows": seen.rows}, separators=(",", ":"))


def read_seen(word: str) -> Seen | None:
    """What a page says that it showed; None if that cannot be read."""
    if len(word) > MOST_LETTERS:
        return None
    try:
        said = json.loads(word)
        fields, rows = said["fields"], said["rows"]
        return Seen(_read_marks(fields), {name: _read_rows(rows[name]) for name in rows})
    except (ValueError, KeyError, TypeError, AttributeError, RecursionError):
        return None


def _read_rows(said: Mapping[str, Any]) -> dict[str, Marks]:
    return {key: _read_marks(marks) for key, marks in said.items()}


def _read_marks(said: Mapping[str, Any]) -> Marks:
    return {name: str(mark) for name, mark in said.items()}

"""What two people wrote into one field, in words, and the choices between them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Any

from django import forms
from django.forms import BoundField

from config.forms.seen import Values

THEIRS, MINE, BOTH, WRITE = "theirs", "mine", "both", "write"
KEPT_LONGER = ("must_not_eat",)
NOTHING = "nothing"


@dataclass(frozen=True, slots=True)
class Clash:
    """A field or row that both changed; `key` names the choice, `mark` marks the saved value."""

    key: str
    label: str
    theirs: tuple[str, ...]
    mine: tuple[str, ...]
    ways: tuple[tuple[str, str], ...]
    mark: str
    written: str | None = None
    is_long: bool = False


def field_clash(
    bound: BoundField, key: str, label: str, mark: str, *, theirs: Values, mine: Values
) -> Clash:
    """A field that two people filled in differently."""
    widget = bound.field.widget
    ways, written = [(THEIRS, "Keep what is saved"), (MINE, "Keep what you wrote")], None
    if getattr(widget, "allow_multiple_selected", False):
        ways.insert(0, (BOTH, "Keep both"))
    elif not isinstance(widget, forms.Select | forms.RadioSelect | forms.CheckboxInput):
        ways.append((WRITE, "Keep this instead:"))
        both = [*theirs, *mine] if bound.name in KEPT_LONGER else mine
        written = "; ".join(both)
    return Clash(
        key,
        label,
        tuple(in_words(bound, theirs)),
        tuple(in_words(bound, mine)),
        tuple(ways),
        mark,
        written,
        isinstance(widget, forms.Textarea),
    )


def in_words(bound: BoundField, values: Values) -> Iterator[str]:
    """Values as the form shows them: by the labels of their choices."""
    if isinstance(bound.field.widget, forms.CheckboxInput):
        yield "yes" if values else "no"
        return
    labels = dict(_flat(getattr(bound.field, "choices", ()))) if values else {}
    yield from (labels.get(value, value) for value in values)
    if not values:
        yield NOTHING


def _flat(choices: Iterable[Any]) -> Iterator[tuple[str, str]]:
    for key, label in choices:
        if isinstance(label, list | tuple):
            yield from _flat(label)
        else:
            yield str(key), str(label)


def row_words(fields: Iterable[tuple[BoundField, Values]]) -> tuple[str, ...]:
    """A row in words, a line for each field with a value."""
    lines = []
    for bound, values in fields:
        if values:
            lines.append(f"{bound.label}: {', '.join(in_words(bound, values))}")
    return tuple(lines)

"""An edit form between two people: merged with what is saved now, or the page that asks.

A page with an edit form calls `edited` and shows its result: a response, or the form with its row.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from typing import Any, Generic, TypeVar

from django.contrib import messages
from django.db.models import Model, QuerySet
from django.http import HttpRequest, HttpResponse, QueryDict
from django.shortcuts import redirect, render

from config.forms.clashes_shown import Clash
from config.forms.merging import CHOOSE, MARKED, WRITTEN, merge
from config.forms.saving import one_save
from config.forms.seen import SEEN, Part, seen_word

NOT_CARRIED = ("csrfmiddlewaretoken",)
Row = TypeVar("Row")
Parts = TypeVar("Parts", bound=Sequence[Part])


@dataclass
class Edit(Generic[Row, Parts]):
    """What is edited, the parts of its form, and the mark of what they show, for the page.

    `answer` is set if nothing is left to show: it is saved, or something must be decided.
    """

    row: Row
    parts: Parts
    seen: str = ""
    others: Iterable[str] = ()
    answer: HttpResponse | None = None

    def is_valid(self) -> bool:
        """Whether all parts are valid; each of them is checked."""
        checked = [part.is_valid() for part in self.parts]
        return all(checked)


@dataclass(frozen=True)
class Form(Generic[Row, Parts]):
    """How a form is opened and saved.

    `find` fetches what is edited, `parts` makes its forms, bound if there is data, and `save`
    writes valid ones and says where to go; None shows the form again with what `save` refused.
    `held` are the rows locked until then. `base` is the frame of its pages.
    """

    find: Callable[[], Row]
    parts: Callable[[Row, QueryDict | None], Parts]
    save: Callable[[Row, Parts], Model | str | None]
    held: tuple[QuerySet[Any], ...] = ()
    base: str = "base.html"


def edited(
    request: HttpRequest, form: Form[Row, Parts], *, again: QueryDict | None = None
) -> Edit[Row, Parts]:
    """The form when opened or sent; `again` is what is typed so far, not to be saved yet."""
    if again is not None:
        row = form.find()
        return Edit(row, form.parts(row, again), request.POST.get(SEEN, ""))
    if request.method != "POST":
        row = form.find()
        parts = form.parts(row, None)
        return Edit(row, parts, seen_word(parts))
    with one_save(request, *form.held) as save:
        if save.first:
            row = form.find()
            return Edit(row, form.parts(row, None), answer=redirect(save.first))
        edit = _sent(request, form)
        if edit.answer is None and edit.is_valid():
            to = form.save(edit.row, edit.parts)
            if to is not None:
                edit.answer = save.done(to)
                _say_others(request, edit.others)
        return edit


def _sent(request: HttpRequest, form: Form[Row, Parts]) -> Edit[Row, Parts]:
    """The form merged with what is saved now; its rows are locked."""
    row = form.find()
    now = form.parts(row, None)
    seen, merged = seen_word(now), merge(request.POST, now)
    others = sorted(merged.others)
    if merged.clashes:
        return Edit(row, now, answer=_ask(request, merged.clashes, others, form.base))
    return Edit(row, form.parts(row, merged.data), seen, others)


def _say_others(request: HttpRequest, others: Iterable[str]) -> None:
    """Add a message about what somebody else changed while the form was open."""
    if words := "; ".join(others):
        messages.info(request, f"Changed in another window in the meantime, and kept: {words}.")


def _ask(
    request: HttpRequest, clashes: list[Clash], others: Iterable[str], base: str
) -> HttpResponse:
    """The page with both texts side by side; it also carries everything else that was typed."""
    again = {f"{word}{clash.key}" for clash in clashes for word in (CHOOSE, MARKED, WRITTEN)}
    carried = [
        (name, value)
        for name, values in request.POST.lists()
        if name not in again and name not in NOT_CARRIED
        for value in values
    ]
    context = {
        "clashes": clashes,
        "carried": carried,
        "tried": bool(again & request.POST.keys()),
        "others": others,
        "base": base,
    }
    return render(request, "conflict.html", context, status=409)

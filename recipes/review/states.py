"""How far a row of the review sheet is settled, and the doubts that it shows."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from typing import Any

from django import forms

from recipes.review.rows import live_doubts

DOUBTED = "recipes/_doubted_field.html"


@dataclass(frozen=True, slots=True)
class LineState:
    """How far a row was understood: a shape and a word, the same on every row."""

    shape: str
    word: str
    asks: bool = True


ACCEPTED = LineState("✓", "Accepted", asks=False)
UNDERSTOOD = LineState("●", "Understood", asks=False)
CHECK = LineState("◆", "Check")
UNKNOWN = LineState("▲", "Unknown ingredient")
NOT_UNDERSTOOD = LineState("▲", "Not understood")
TO_FIX = LineState("▲", "To fix")


@dataclass(frozen=True, slots=True)
class DoubtShown:
    """A doubt with the label of the field it concerns, empty for the whole row or recipe."""

    label: str
    sentence: str


class Doubted(forms.Form):
    """What a form of the review adds: the original text, and doubts beside its fields."""

    source = ""
    doubts = ""
    span = ""
    right = False
    told: dict[str, list[str]]

    def carry(self, values: Mapping[str, Any]) -> None:
        """Take the original text and the doubts that are not settled yet from a row."""
        self.source = str(values.get("source") or "")
        self.doubts = str(values.get("doubts") or "")
        self.span = str(values.get("span") or "")
        self.right = bool(values.get("right"))
        self.told = live_doubts(values)
        for name in self.told:
            if name in self.fields:
                self._mark(name)

    def _mark(self, name: str) -> None:
        marked = self.fields[name]
        marked.template_name = DOUBTED  # type: ignore[attr-defined]  # the stubs leave it out
        where = self[name].auto_id
        helped = f"{where}_helptext " if marked.help_text else ""
        marked.widget.attrs["aria-describedby"] = f"{helped}{self.doubts_id(name)} {where}_error"

    def doubts_id(self, name: str) -> str:
        """The id of the list that has the doubts about a field."""
        return f"{self.prefix}-doubts-list"

    @property
    def list_id(self) -> str:
        """The id of the list of a row's doubts."""
        return self.doubts_id("")

    @property
    def can_be_right(self) -> bool:
        """Whether everything it asks can be confirmed as it is."""
        return self.state is CHECK

    def focus(self, names: Collection[str] = ()) -> None:
        """Put the focus into the first field that asks, of some or of all."""
        among = [name for name in self.fields if not names or name in names]
        asking = [name for name in among if name in self.told or name in self.errors]
        for name in (*asking, *among)[:1]:
            self.fields[name].widget.attrs["autofocus"] = True

    @property
    def field_doubts(self) -> list[DoubtShown]:
        """The doubts about single fields that are not settled yet, in the fields' order."""
        return [
            DoubtShown(str(self[name].label), sentence)
            for name in self.fields
            for sentence in self.told.get(name, ())
        ]

    @property
    def general_doubts(self) -> list[DoubtShown]:
        """The doubts that concern no single field."""
        others = [name for name in self.told if name not in self.fields]
        return [DoubtShown("", sentence) for name in others for sentence in self.told[name]]

    @property
    def all_doubts(self) -> list[DoubtShown]:
        """Those about fields, then the others."""
        return self.field_doubts + self.general_doubts

    @property
    def state(self) -> LineState:
        """How far the row is settled."""
        return self.state_of({*self.fields, *self.told, "__all__"})

    def state_of(self, names: Collection[str]) -> LineState:
        """How far some of its fields are settled."""
        if self.is_bound and any(name in names for name in self.errors):
            return TO_FIX
        if any(name in names for name in self.told):
            return CHECK
        return ACCEPTED if self.right else UNDERSTOOD

    @property
    def asks(self) -> bool:
        """Whether somebody has to answer something."""
        return self.state.asks

    @property
    def is_open(self) -> bool:
        """Whether its fields are shown: if it asks, is empty, or has the focus."""
        fields = self.fields.values()
        return self.asks or not self.in_words or any("autofocus" in f.widget.attrs for f in fields)

    @property
    def in_words(self) -> str:
        """The values of its fields, on one line; empty for an empty row."""
        return ""

"""The head of a recipe in rows of the review sheet: fields that are looked at together."""

from __future__ import annotations

from dataclasses import dataclass

from django.forms import BoundField

from config.forms.clashes_shown import in_words
from config.forms.seen import shown
from recipes.core.written import WrittenRecipe, names_of
from recipes.editing.head import PAN_MEASURES
from recipes.review.states import Doubted, DoubtShown, LineState

# The name for doubts about the whole recipe.
WHOLE = ""
_FIRST = {
    "title": ("title", "summary"),
    "yield": ("piece_name", "pieces", "piece_g"),
    "heat": ("bake_loss_percent", "dough_temperature_c", "core_temperature_c"),
    "pan": ("bread_kind", "pan_shape", *PAN_MEASURES),
}
_GROUPED = {name for names in _FIRST.values() for name in names}
HEAD_GROUPS = _FIRST | {"notes": tuple(n for n in names_of(WrittenRecipe) if n not in _GROUPED)}
_LABELS = {
    "title": "Title",
    "yield": "Yield",
    "heat": "Loss and temperatures",
    "pan": "Pan and kind of bread",
    "notes": "Equipment and note",
}


@dataclass(frozen=True, slots=True)
class HeadGroup:
    """Some fields of the head, folded while they ask nothing."""

    key: str
    head: Doubted

    @property
    def label(self) -> str:
        return _LABELS[self.key]

    @property
    def prefix(self) -> str:
        return f"head-{self.key}"

    @property
    def fields(self) -> list[BoundField]:
        return [self.head[name] for name in HEAD_GROUPS[self.key] if name in self.head.fields]

    @property
    def doubts_id(self) -> str:
        return f"{self.prefix}-doubts"

    @property
    def doubts(self) -> list[DoubtShown]:
        told = self.head.told
        return [
            DoubtShown(str(field.label), said)
            for field in self.fields
            for said in told.get(field.name, ())
        ]

    @property
    def state(self) -> LineState:
        return self.head.state_of({field.name for field in self.fields})

    @property
    def asks(self) -> bool:
        return self.state.asks

    @property
    def is_open(self) -> bool:
        return self.asks or any(field.field.widget.attrs.get("autofocus") for field in self.fields)

    def focus(self) -> None:
        self.head.focus(HEAD_GROUPS[self.key])

    def _named(self, field: BoundField) -> str:
        return "" if self.key == "title" else f"{field.label}: "

    @property
    def in_words(self) -> str:
        """What its fields hold, on one line."""
        told = [
            f"{self._named(field)}{', '.join(in_words(field, values))}"
            for field in self.fields
            if (values := shown(field))
        ]
        return " · ".join(told) or "not said"


@dataclass(frozen=True, slots=True)
class WholeRecipe:
    """Doubts about the recipe as a whole, which belong to no field."""

    head: Doubted

    @property
    def prefix(self) -> str:
        return "head-whole"

    @property
    def asks(self) -> bool:
        return bool(self.head.general_doubts)

    def focus(self) -> None:
        """It has no field to focus."""


def groups_of(head: Doubted) -> list[HeadGroup]:
    return [HeadGroup(key, head) for key in HEAD_GROUPS]

"""The form that edits a formula by grams, by baker's percentage, or to a target dough."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from decimal import ROUND_HALF_UP, Decimal
from hashlib import sha256
from typing import Any

from django import forms

from recipes.core import adjusting
from recipes.core.adjusting import Held, LineAt, places
from recipes.core.errors import BakingError
from recipes.core.formula import Formula, FormulaComponent, Line
from recipes.core.written import WrittenLine, WrittenPart, WrittenRecipe
from recipes.editing.lines import MASS_PLACES, MOST_G
from recipes.forms.fields import FigureField, Option
from recipes.forms.words import in_words
from recipes.models import Revision
from recipes.selectors import written_of
from wording.figures import CANNOT_SAY, plain

PERCENT, GRAMS, DOUGH = "percent", "grams", "dough"
WAYS = {
    PERCENT: "Baker’s percentages",
    GRAMS: "Grams of a line",
    DOUGH: "How much dough",
}
HELD = {
    Held.FLOUR: "The flour stays, and the dough grows or shrinks",
    Held.DOUGH: "The dough stays, and everything else makes room",
}
TENTH, HUNDREDTH = Decimal("0.1"), Decimal("0.01")


def _figure(by: str, **kwargs: Any) -> FigureField:
    if by == PERCENT:
        least, most, unit = Decimal("0.001"), 1000, "%"
        return FigureField(least=least, most=most, places=3, unit=unit, required=False, **kwargs)
    return FigureField(
        least=Decimal("0.001"), most=MOST_G, places=3, unit="g", required=False, **kwargs
    )


@dataclass(frozen=True, slots=True)
class LineField:
    """A line to change: its part, its ingredient, its present value, and the field."""

    part: FormulaComponent
    line: Line
    now: str
    field: forms.BoundField
    opens_part: bool


class AdjustForm(forms.Form):
    """Edits of a revision's formula. `made` is the resulting formula.

    Lines left empty stay or make room. `seen` tells whether the recipe is still the one that was
    shown.
    """

    by = forms.ChoiceField(choices=tuple(WAYS.items()))
    held = forms.ChoiceField(
        choices=tuple(HELD.items()), label="What stays fixed", widget=forms.RadioSelect
    )

    made: Formula

    def __init__(self, posted: Mapping[str, str], revision: Revision, formula: Formula) -> None:
        self.revision, self.formula, self.made = revision, formula, formula
        turn, way = posted.get("turn", ""), posted.get("by", PERCENT)
        self.turned = turn in WAYS and turn != way
        way = turn if self.turned else way
        data = {} if self.turned else dict(posted.items())
        data |= {"by": way, "held": posted.get("held", Held.FLOUR)}
        super().__init__(data, auto_id="adjust_%s")
        self.way = way if way in WAYS else PERCENT
        self.fields |= self._figures()

    def _figures(self) -> dict[str, FigureField]:
        if self.way == DOUGH:
            return {"dough_g": _figure(DOUGH, label="Dough, g")}
        return {
            _name(place): _figure(self.way, label=line.ingredient.name)
            for place, _, line in places(self.formula)
        }

    @property
    def ways(self) -> list[Option]:
        return [Option(key, label, key == self.way) for key, label in WAYS.items()]

    @property
    def unit(self) -> str:
        return "%" if self.way == PERCENT else "g"

    @property
    def seen(self) -> str:
        """A mark of the formula as it is now."""
        lines = [(line.ingredient.key, plain(line.mass_g)) for _, _, line in places(self.formula)]
        return sha256(repr((self.revision.pk, lines)).encode()).hexdigest()[:16]

    @property
    def line_fields(self) -> Iterator[LineField]:
        """The lines with their fields, in the order of the recipe."""
        if self.way == DOUGH:
            return
        for place, part, line in places(self.formula):
            now = self._now(place, line)
            yield LineField(part, line, now, self[_name(place)], place.line == 0)

    def _now(self, place: LineAt, line: Line) -> str:
        if self.way == GRAMS:
            return plain(line.mass_g)
        percent = adjusting.percent_at(self.formula, place)
        return CANNOT_SAY if percent is None else plain(percent.quantize(HUNDREDTH, ROUND_HALF_UP))

    @property
    def dough_now(self) -> str:
        return plain(self.formula.dough_g.quantize(TENTH, ROUND_HALF_UP))

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or self.cleaned_data
        if not self.errors:
            try:
                self.made = self._adjusted(cleaned)
                self._check_sizes()
            except BakingError as error:
                self.made = self.formula
                self.add_error(None, self._in_words(error))
        return cleaned

    def _adjusted(self, cleaned: dict[str, Any]) -> Formula:
        if self.way == DOUGH:
            dough_g = cleaned["dough_g"]
            return adjusting.scale_to_dough(self.formula, dough_g) if dough_g else self.formula
        written = {
            place: cleaned[_name(place)]
            for place, _, _ in places(self.formula)
            if cleaned[_name(place)] is not None
        }
        change = adjusting.set_percents if self.way == PERCENT else adjusting.set_grams
        return change(self.formula, written, Held(cleaned["held"])) if written else self.formula

    def _check_sizes(self) -> None:
        for _, _, line in places(self.made):
            if not 0 < _kept(line.mass_g) <= MOST_G:
                self.add_error(
                    None,
                    f"{line.ingredient.name} would come to "
                    f"{'more than a ton' if line.mass_g > 1 else 'too little to weigh'}.",
                )

    def _in_words(self, error: BakingError) -> str:
        match error:
            case adjusting.FlourMissed(written_g=written, flour_g=flour):
                return self._flour_in_words(written, flour)
            case adjusting.DoughMissed(written_g=written, dough_g=dough):
                return (
                    f"The dough stays at {_grams(dough)} g, and what you entered comes to "
                    f"{_grams(written)} g: it must leave room for the rest, or equal it exactly."
                )
        return in_words(error)

    def _flour_in_words(self, written: Decimal, flour: Decimal) -> str:
        if self.way == PERCENT:
            percent = plain((written * 100 / flour).quantize(HUNDREDTH, ROUND_HALF_UP))
            return (
                f"All flours together are 100 %, and those you entered come to {percent} %: "
                "leave another flour blank to make room, or enter them so that they add up to 100."
            )
        return (
            f"The flour stays at {_grams(flour)} g, and the flours you entered come to "
            f"{_grams(written)} g. Leave another flour blank to make room, or keep the dough "
            "fixed instead."
        )

    @property
    def is_changed(self) -> bool:
        """Whether anything differs when rounded to a ten-thousandth of a gram."""
        pairs = zip(places(self.formula), places(self.made), strict=True)
        return any(_kept(one.mass_g) != _kept(other.mass_g) for (*_, one), (*_, other) in pairs)

    @property
    def was_seen(self) -> bool:
        """Whether the recipe is still what the form showed."""
        return self.data.get("seen") == self.seen

    def written(self) -> WrittenRecipe:
        """The whole recipe with the new masses; changed lines lose the words they were typed in."""
        before = written_of(self.revision)
        pairs = zip(before.parts, self.made.components, strict=True)
        parts = (replace(part, lines=tuple(_changed(part, made))) for part, made in pairs)
        return replace(before, parts=tuple(parts))


def _name(place: LineAt) -> str:
    return f"line-{place.component}-{place.line}"


def _kept(mass_g: Decimal) -> Decimal:
    """A mass as the recipe stores it, in grams."""
    return mass_g.quantize(MASS_PLACES, ROUND_HALF_UP)


def _grams(mass_g: Decimal) -> str:
    return plain(mass_g.quantize(TENTH, ROUND_HALF_UP))


def _changed(part: WrittenPart, made: FormulaComponent) -> Iterator[WrittenLine]:
    for line, new in zip(part.lines, made.lines, strict=True):
        mass_g = _kept(new.mass_g)
        yield line if mass_g == line.mass_g else replace(line, mass_g=mass_g, entered="")

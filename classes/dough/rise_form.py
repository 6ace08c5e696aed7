"""The form on rise: the recipe's rises, the dough, the places, the rule, the altitude."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal
from typing import Any

from django import forms

from classes.dough.water_form import USUAL_DOUGH_C, PrefilledForm, celsius
from classes.models import Kitchen
from recipes.core.choices import StepKind, TemperatureOf
from recipes.core.rise import drift
from recipes.core.rise.drift import DoughAt
from recipes.core.rise.fermentation import CARDINAL, DOUBLING, TEN_PERCENT, Doubling, Rule
from recipes.core.rise.kitchen import Written
from recipes.forms.fields import FigureField, MinutesField, WholeField
from recipes.models import Revision, Step

BENCH, CABINET, REFRIGERATOR = "bench", "cabinet", "refrigerator"
PLACES = ((BENCH, "Bench"), (CABINET, "Warm cabinet"), (REFRIGERATOR, "Refrigerator"))
RULES = ((rule.key, rule.name.capitalize()) for rule in (DOUBLING, TEN_PERCENT, CARDINAL))
MOST_TAU_MIN = 1440


def _minutes(label: str, **kwargs: Any) -> MinutesField:
    return MinutesField(label=label, unit="min", **kwargs)


def _drift_minutes(label: str) -> MinutesField:
    return _minutes(label, least=1, most=MOST_TAU_MIN)


class RiseForm(PrefilledForm):
    """The recipe's rises, the dough and the room, the places, the rule, and the altitude."""

    bulk_min = _minutes("First rise", least=0, most=10080, required=False)
    bulk_c = celsius("at")
    proof_min = _minutes("Proof", least=0, most=10080, required=False)
    proof_c = celsius("at")
    dough_c = celsius("Dough after mixing")
    room_c = celsius("Room", least=-5)
    between_min = _minutes("Shaping, on the bench", least=0, most=1440, required=False)
    place = forms.ChoiceField(label="Where it stands", choices=PLACES, widget=forms.RadioSelect)
    bench_tau = _drift_minutes("Bench drifts in")
    cabinet_c = celsius("Warm cabinet")
    cabinet_tau = _drift_minutes("Cabinet drifts in")
    refrigerator_c = celsius("Refrigerator", least=-5)
    refrigerator_tau = _drift_minutes("Refrigerator drifts in")
    rule = forms.ChoiceField(label="Rule", choices=list(RULES), widget=forms.RadioSelect)
    every_c = FigureField(label="Doubles every", least=1, most=100, places=1, unit="°C")
    altitude_m = WholeField(label="Height above sea level", least=0, most=5000, unit="m")

    def __init__(self, asked: Mapping[str, str], revision: Revision, kitchen: Kitchen) -> None:
        super().__init__(asked, self._usual(revision, kitchen), "rise")
        self.writing = kitchen.writing
        self._of = {kind: _of(revision, kind) for kind in (StepKind.BULK, StepKind.PROOF)}
        own_c = revision.dough_temperature_c
        self._own_c = USUAL_DOUGH_C if own_c is None else own_c

    @staticmethod
    def _usual(revision: Revision, kitchen: Kitchen) -> dict[str, Any]:
        steps, dough_c = list(revision.steps.all()), revision.dough_temperature_c
        dough_c = USUAL_DOUGH_C if dough_c is None else dough_c
        bulk_min, bulk_c = _rise_of(steps, StepKind.BULK, dough_c)
        proof_min, proof_c = _rise_of(steps, StepKind.PROOF, dough_c)
        between = [step for step in steps if step.kind in (StepKind.DIVIDE, StepKind.REST)]
        return {
            "bulk_min": bulk_min or "",
            "bulk_c": bulk_c,
            "proof_min": proof_min or "",
            "proof_c": proof_c,
            "dough_c": dough_c,
            "room_c": Decimal(kitchen.room_c),
            "between_min": sum(map(_step_min, between)) or "",
            "place": BENCH,
            "bench_tau": drift.BENCH_TAU_MIN,
            "cabinet_c": 28,
            "cabinet_tau": drift.CABINET_TAU_MIN,
            "refrigerator_c": 4,
            "refrigerator_tau": drift.BENCH_TAU_MIN,
            "rule": DOUBLING.key,
            "every_c": DOUBLING.every_c,
            "altitude_m": kitchen.altitude_m,
        }

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or self.cleaned_data
        if not self.errors and not (cleaned["bulk_min"] or cleaned["proof_min"]):
            self.add_error("bulk_min", "Enter how long the dough rises, here or at the proof.")
        return cleaned

    @property
    def place_fields(self) -> list[forms.BoundField]:
        """The fields about the places, as the page lists them."""
        names = ("cabinet_c", "cabinet_tau", "refrigerator_c", "refrigerator_tau", "bench_tau")
        return [self[name] for name in names]

    @property
    def places_wrong(self) -> bool:
        """Whether one of those fields has an error."""
        return any(field.errors for field in self.place_fields)

    @property
    def written(self) -> list[Written]:
        """The recipe's rises in order; at least one."""
        found: list[Written] = []
        own_c = self._own_c
        for name, kind in (("first rise", StepKind.BULK), ("proof", StepKind.PROOF)):
            minutes, celsius = self.cleaned_data[f"{kind}_min"], self.cleaned_data[f"{kind}_c"]
            if minutes:
                of = self._of[kind]
                from_c = own_c if of == TemperatureOf.ROOM else None
                words = TemperatureOf(of).label.lower() if of else "not stated of what"
                found.append(Written(name, Decimal(minutes), celsius, words, from_c))
                own_c = found[-1].ends_c
        return found

    @property
    def places(self) -> dict[str, DoughAt]:
        """All three places by key."""
        found = {}
        for key, label in PLACES:
            degrees = self.cleaned_data["room_c" if key == BENCH else f"{key}_c"]
            found[key] = DoughAt(label.lower(), degrees, Decimal(self.cleaned_data[f"{key}_tau"]))
        return found

    @property
    def rules(self) -> dict[str, Rule]:
        """All three rules by key; the doubling one with the form's step."""
        doubling = Doubling(every_c=self.cleaned_data["every_c"])
        return {rule.key: rule for rule in (doubling, TEN_PERCENT, CARDINAL)}


def _of(revision: Revision, kind: StepKind) -> str:
    """What the temperature belongs to in the longest step of a kind that has one; may be empty."""
    warm = [step for step in revision.steps.all() if step.kind == kind]
    warm = [rise for rise in warm if rise.temperature_c is not None]
    return max(warm, key=_step_min).temperature_of if warm else TemperatureOf.DOUGH


def _step_min(step: Step) -> int:
    return step.hands_on_min + step.waiting_min


def _rise_of(steps: list[Step], kind: StepKind, dough_c: Decimal) -> tuple[int, Decimal]:
    """Minutes of all steps of a kind, and the temperature of the longest that names one."""
    found = [step for step in steps if step.kind == kind]
    warm = [(step, step.temperature_c) for step in found if step.temperature_c is not None]
    degrees = max(warm, key=lambda rise: _step_min(rise[0]))[1] if warm else dough_c
    return sum(map(_step_min, found)), degrees

"""What the pages on water and rise show, computed from their forms."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from classes.dough.refusals import Refusal, refused
from classes.dough.rise_form import BENCH, CABINET, REFRIGERATOR, RiseForm
from classes.dough.water_form import MeasuredForm, WaterForm
from recipes.core.choices import IngredientKind
from recipes.core.errors import BakingError
from recipes.core.formula import Formula
from recipes.core.heat.altitude import (
    CORE_MARGIN_C,
    AltitudeAdvice,
    CoreTarget,
    altitude_advice,
    core_target,
)
from recipes.core.heat.balance import Mixture
from recipes.core.heat.doneness import CORE_RANGES, BreadKind, CoreRange
from recipes.core.heat.dough_batch import DoughBatch, Liquid, liquid_of
from recipes.core.heat.dough_liquid import LiquidPlan, Means, plan_liquid
from recipes.core.heat.in_kitchen import bench_of
from recipes.core.heat.water import YEAST_LIMIT_C, Friction, Model
from recipes.core.numbers import ZERO
from recipes.core.rise.chart import Box, RiseChart, rise_chart
from recipes.core.rise.drift import DoughAt
from recipes.core.rise.fermentation import Rule
from recipes.core.rise.kitchen import (
    CoreAt,
    Rises,
    Written,
    core_at,
    curve_in,
    rises_in,
    written_curve,
)
from recipes.core.scaling import batch
from recipes.core.scaling.amount_lines import AmountLine
from recipes.models import Revision
from recipes.selectors import compositions_of, keys_of_kind
from wording.durations import whole_minutes
from wording.writing import Writing


def batch_of(revision: Revision, formula: Formula, dough_g: Decimal) -> DoughBatch:
    """A revision scaled to a dough, with what its ingredients consist of."""
    eggs = keys_of_kind(revision, IngredientKind.EGG)
    return DoughBatch(batch(formula, dough_g), compositions_of(revision), eggs)


@dataclass(frozen=True, slots=True)
class WaterAnswer:
    """A plan or a refusal, and the dough's temperature with the liquid as it comes."""

    model: Model
    liquid: Liquid
    friction: Friction
    comes_at_c: Decimal
    plan: LiquidPlan | None
    refusal: Refusal | None
    as_it_comes_c: Decimal | None
    left_out: tuple[AmountLine, ...]

    @property
    def is_sum(self) -> bool:
        return self.model is Model.TRADE_SUM

    @property
    def is_ice(self) -> bool:
        return self.plan is not None and self.plan.means is Means.ICE

    @property
    def is_warm(self) -> bool:
        return self.plan is not None and self.plan.means is Means.WARM

    @property
    def is_chill(self) -> bool:
        return self.plan is not None and self.plan.means is Means.CHILL


def water_answer(form: WaterForm, made: DoughBatch) -> WaterAnswer | None:
    """The answer to a valid form; None if the final dough takes no liquid."""
    liquid = liquid_of(made.sheet)
    if liquid is None:
        return None
    bench = bench_of(form.chosen_model, form.at, made, liquid, form.friction)
    plan = refusal = as_it_comes_c = None
    comes_at_c = form.at.tap_c if liquid.is_water else form.at.milk_c
    try:
        as_it_comes_c = bench.dough_c(comes_at_c)
        plan = plan_liquid(bench, form.cleaned_data["wanted_c"], liquid, form.at)
    except BakingError as error:
        refusal = refused(error, form.writing)
    left_out = made.unknown if form.chosen_model is Model.HEAT_BALANCE else ()
    return WaterAnswer(
        form.chosen_model,
        liquid,
        form.friction,
        comes_at_c,
        plan,
        refusal,
        as_it_comes_c,
        left_out,
    )


@dataclass(frozen=True, slots=True)
class RouxAnswer:
    """The temperature of a hot roux mixed with the cold liquids and egg of the dough."""

    mixture: Mixture | None
    refusal: Refusal | None = None

    @property
    def harms_yeast(self) -> bool:
        return self.mixture is not None and self.mixture.temperature_c > YEAST_LIMIT_C


def roux_answer(form: WaterForm, made: DoughBatch) -> RouxAnswer | None:
    """The mix of a valid form; None without a roux."""
    try:
        mixture = made.roux_in_cold(form.at)
    except BakingError as error:
        return RouxAnswer(None, refused(error, form.writing))
    return RouxAnswer(mixture) if mixture else None


@dataclass(frozen=True, slots=True)
class MeasuredAnswer:
    """A measured friction; only one in the bakers' formula can be saved for a mixer."""

    friction: Friction | None
    refusal: Refusal | None = None

    @property
    def is_sum(self) -> bool:
        return self.friction is not None and self.friction.model is Model.TRADE_SUM

    @property
    def is_negative(self) -> bool:
        return self.friction is not None and self.friction.rise_c < ZERO

    @property
    def can_be_kept(self) -> bool:
        return self.is_sum and not self.is_negative


def measured_answer(
    form: WaterForm, measured: MeasuredForm, made: DoughBatch
) -> MeasuredAnswer | None:
    """The friction of valid forms; None until the resulting temperature is given."""
    liquid = liquid_of(made.sheet)
    if liquid is None or not measured.is_complete:
        return None
    said = measured.cleaned_data
    bench = bench_of(form.chosen_model, measured.at(form.at), made, liquid, None)
    try:
        return MeasuredAnswer(bench.measured(said["was_dough_c"], said["was_liquid_c"]))
    except BakingError as error:
        return MeasuredAnswer(None, refused(error, form.writing))


WHERE = {
    BENCH: "on the bench",
    CABINET: "in the warm cabinet",
    REFRIGERATOR: "in the refrigerator",
}


@dataclass(frozen=True, slots=True)
class RiseChoice:
    """Rises in one of the places or by one of the rules; `chosen` marks the form's own."""

    rises: Rises
    chosen: bool


@dataclass(frozen=True, slots=True)
class RiseAnswer:
    """The chosen rises, the rises in all places and by all rules, and the chart."""

    where: str
    chosen: Rises
    by_place: tuple[RiseChoice, ...]
    by_rule: tuple[RiseChoice, ...]
    chart: RiseChart


def rise_answer(form: RiseForm) -> RiseAnswer | Refusal:
    """The answer to a valid form, or why the recipe's own times cannot be used."""
    try:
        return _rise_answer(form)
    except BakingError as error:
        return refused(error, form.writing)


def _rise_answer(form: RiseForm) -> RiseAnswer:
    places, rules, said = form.places, form.rules, form.cleaned_data
    place, rule = places[said["place"]], rules[said["rule"]]

    def rises(at: DoughAt, by: Rule) -> Rises:
        between = Decimal(said["between_min"])
        return rises_in(
            form.written, by, said["dough_c"], at, bench=places[BENCH], between_min=between
        )

    by_place = {key: rises(at, rule) for key, at in places.items()}
    chosen = by_place[said["place"]]
    by_rule = [
        RiseChoice(chosen if one is rule else rises(place, one), one is rule)
        for one in rules.values()
    ]
    together = (BENCH, CABINET)
    drawn = together if said["place"] in together else (said["place"],)
    return RiseAnswer(
        WHERE[said["place"]],
        chosen,
        tuple(RiseChoice(choice, key == said["place"]) for key, choice in by_place.items()),
        tuple(by_rule),
        _chart(form.written[0], rule, [by_place[key] for key in drawn], form.writing),
    )


# Small, so that its words stay readable on a phone; ticks need room on the left and below.
CHART_BOX = Box(Decimal(400), Decimal(280), left=Decimal(52), bottom=Decimal(44), top=Decimal(20))
DAY_MIN = Decimal(24 * 60)


def _chart(written: Written, rule: Rule, drawn: list[Rises], writing: Writing) -> RiseChart:
    """The first rise as written and in the places; hours and minutes below a day, else hours."""
    words = f"as written, {writing.one_scale(written.temperature_c)}"
    curves = [written_curve(written, f"{words}: {whole_minutes(written.minutes)}")]
    for rises in drawn:
        rise, place = rises.rises[0], rises.place
        if rise.minutes is not None:
            words = f"{place.name}, {writing.one_scale(place.temperature_c)}"
            words = f"{words}: {whole_minutes(rise.minutes)}"
            curve = curve_in(rise, rule, place, words)
            curves += [curve] if curve else []
    longest = max(curve.points[-1][0] for curve in curves)
    return rise_chart(curves, CHART_BOX, starts_at_min=0 if longest < DAY_MIN else None)


@dataclass(frozen=True, slots=True)
class AltitudeAnswer:
    """Boiling point, core target and advice at an altitude."""

    advice: AltitudeAdvice
    core: CoreAt | None
    published: CoreRange | None
    target: CoreTarget | None
    margin_c: Decimal = CORE_MARGIN_C


def altitude_answer(revision: Revision, altitude_m: int) -> AltitudeAnswer:
    """What an altitude in meters means for a recipe."""
    height, core_c = Decimal(altitude_m), revision.core_temperature_c
    published = CORE_RANGES[BreadKind(revision.bread_kind)] if revision.bread_kind else None
    return AltitudeAnswer(
        altitude_advice(height),
        None if core_c is None else core_at(core_c, height),
        published,
        core_target(published, height) if published else None,
    )

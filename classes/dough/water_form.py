"""The form on water; every field starts from the recipe and the kitchen."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from decimal import Decimal
from typing import Any

from django import forms

from classes.models import Kitchen, Mixer
from config.forms.fields import field_of
from recipes.core.choices import ComponentKind, IngredientKind
from recipes.core.formula import Formula
from recipes.core.heat.dough_batch import Temperatures
from recipes.core.heat.in_kitchen import HAND_C, MIXER_C, model_for, usual_temperatures
from recipes.core.heat.part_heat import COOKED_FROM_C, PartHeat
from recipes.core.heat.water import Friction, Model
from recipes.forms.fields import CelsiusField, FigureField
from recipes.models import Revision
from recipes.selectors import part_heat_of
from wording.figures import plain

USUAL_DOUGH_C = Decimal(25)

HAND, OWN = "hand", "own"

MODELS = (
    (Model.TRADE_SUM.value, "The bakers’ formula"),
    (Model.HEAT_BALANCE.value, "Heat balance by composition"),
)
PIECES, GRAMS = "pieces", "g"
WARM = (
    *("room_c", "flour_c", "tap_c", "preferment_c", "roux_c", "soaker_c"),
    *("milk_c", "egg_c", "ice_c"),
)


def celsius(label: str, *, least: int = 0, most: int = 50, **kwargs: Any) -> CelsiusField:
    """A field for a temperature in °C to the tenth."""
    return CelsiusField(label=label, least=least, most=most, places=1, unit="°C", **kwargs)


class PrefilledForm(forms.Form):
    """A form filled by a GET: missing fields have their default values."""

    def __init__(self, asked: Mapping[str, str], usual: Mapping[str, Any], prefix: str) -> None:
        data = {name: plain(v) if isinstance(v, Decimal) else str(v) for name, v in usual.items()}
        data |= {name: asked[name].replace("\0", "") for name in self.base_fields if name in asked}
        super().__init__(data, auto_id=f"{prefix}_%s")


def mixer_key(mixer: Mixer) -> str:
    """The name of a mixer in the form."""
    return f"mixer-{mixer.pk}"


def _mixer_label(mixer: Mixer) -> str:
    if mixer.friction_c is None:
        return f"{mixer.name}: not measured, {MIXER_C} °C assumed"
    return f"{mixer.name}: {plain(mixer.friction_c)} °C, measured"


class WaterForm(PrefilledForm):
    """Temperatures, how it is mixed, how much, and by which model."""

    wanted_c = celsius("Dough wanted")
    amount = FigureField(label="How much", least=1, most=1_000_000, places=1)
    amount_in = forms.ChoiceField(label="Counted in")
    model = forms.ChoiceField(label="Model", choices=MODELS, widget=forms.RadioSelect)
    room_c = celsius("Room", least=-5)
    flour_c = celsius("Flour", least=-20)
    tap_c = celsius("Tap water")
    preferment_c = celsius("Preferment", least=-5)
    roux_c = celsius("Roux, as it goes in", most=100)
    soaker_c = celsius("Soaker", most=100)
    milk_c = celsius("Milk and other cold liquids")
    egg_c = celsius("Egg")
    ice_c = celsius("Ice (wet: 0)", least=-40, most=0)
    mixing = forms.ChoiceField(label="Mixed by")
    friction_c = FigureField(label="My own figure", least=-5, most=40, places=1, unit="°C")

    def __init__(
        self, asked: Mapping[str, str], revision: Revision, formula: Formula, kitchen: Kitchen
    ) -> None:
        self.heat = part_heat_of(revision, Decimal(kitchen.room_c))
        super().__init__(asked, self._usual(revision, kitchen, self.heat), "water")
        self.formula, self.mixers = formula, _mixers(kitchen)
        self.writing = kitchen.writing
        piece = f"{revision.piece_name}, {plain(revision.piece_g)} g each"
        field_of(self, "amount_in", forms.ChoiceField).choices = [
            (PIECES, piece),
            (GRAMS, "g of dough"),
        ]
        field_of(self, "mixing", forms.ChoiceField).choices = [
            (HAND, "Hand: usually 3 °C in the formula, 0 in a balance"),
            *((mixer_key(mixer), _mixer_label(mixer)) for mixer in self.mixers),
            (OWN, "My own figure"),
        ]
        for name in self._unneeded(revision, formula):
            del self.fields[name]

    @staticmethod
    def _usual(revision: Revision, kitchen: Kitchen, heat: PartHeat) -> dict[str, Any]:
        wanted_c, room_c = revision.dough_temperature_c, Decimal(kitchen.room_c)
        flour_c, tap_c = Decimal(kitchen.flour_c), Decimal(kitchen.tap_c)
        at = usual_temperatures(heat, room_c=room_c, flour_c=flour_c, tap_c=tap_c)
        return {name: getattr(at, name) for name in WARM} | {
            "wanted_c": USUAL_DOUGH_C if wanted_c is None else wanted_c,
            "amount": revision.pieces,
            "amount_in": PIECES,
            "model": model_for(heat, room_c).value,
            "mixing": HAND,
            "friction_c": MIXER_C,
        }

    @staticmethod
    def _unneeded(revision: Revision, formula: Formula) -> Iterable[str]:
        kinds = {part.kind for part in formula.components}
        lines = [line.ingredient for part in revision.components.all() for line in part.lines.all()]
        if ComponentKind.PREFERMENT not in kinds:
            yield "preferment_c"
        if ComponentKind.ROUX not in kinds:
            yield "roux_c"
        if ComponentKind.SOAKER not in kinds:
            yield "soaker_c"
        liquids = [line for line in lines if line.kind == IngredientKind.LIQUID]
        if all(liquid.tap for liquid in liquids):
            yield "milk_c"
        if not any(liquid.tap for liquid in liquids):
            yield "ice_c"
        if not any(line.kind == IngredientKind.EGG for line in lines):
            yield "egg_c"

    @property
    def warm_fields(self) -> list[forms.BoundField]:
        """The temperatures, as the page lists them."""
        return [self[name] for name in WARM if name in self.fields]

    @property
    def cannot_say(self) -> str:
        """The parts whose temperature the recipe does not give, such as `the roux`."""
        return " and ".join(f"the {kind.value}" for kind in self.heat.cannot_say)

    @property
    def roux_is_hot(self) -> bool:
        """Whether the roux of a valid form goes in hot."""
        roux_c = self.cleaned_data.get("roux_c")
        return roux_c is not None and roux_c >= COOKED_FROM_C

    @property
    def dough_g(self) -> Decimal:
        """The dough of a valid form in grams."""
        amount: Decimal = self.cleaned_data["amount"]
        return amount * self.formula.piece_g if self._in_pieces else amount

    @property
    def _in_pieces(self) -> bool:
        amount_in: str = self.cleaned_data["amount_in"]
        return amount_in == PIECES

    @property
    def chosen_model(self) -> Model:
        return Model(self.cleaned_data["model"])

    @property
    def mixer(self) -> Mixer | None:
        """The mixer it is mixed by, if it is one of the kitchen's."""
        chosen = self.cleaned_data["mixing"]
        return next((mixer for mixer in self.mixers if mixer_key(mixer) == chosen), None)

    @property
    def friction(self) -> Friction:
        """What mixing adds, in the model that it was found in; own figures are of the chosen one.

        A mixer's own is always of the bakers' formula, so that a heat balance refuses it.
        """
        mixing = self.cleaned_data["mixing"]
        if mixing == OWN:
            return Friction(self.cleaned_data["friction_c"], self.chosen_model)
        if mixing == HAND:
            return Friction(HAND_C[self.chosen_model], self.chosen_model)
        measured_c = self.mixer.friction_c if self.mixer else None
        return Friction(MIXER_C if measured_c is None else measured_c, Model.TRADE_SUM)

    @property
    def at(self) -> Temperatures:
        """The temperatures of a valid form."""
        names = set(Temperatures.__dataclass_fields__) & set(self.cleaned_data)
        return Temperatures(**{name: self.cleaned_data[name] for name in names})


def _mixers(kitchen: Kitchen) -> list[Mixer]:
    return list(kitchen.mixers.all()) if kitchen.pk else []


class MeasuredForm(PrefilledForm):
    """What went into a dough and what came out; without the last two fields it has no answer."""

    was_room_c = celsius("Room was", least=-5)
    was_flour_c = celsius("Flour was", least=-20)
    was_preferment_c = celsius("Preferment was", least=-5)
    was_liquid_c = celsius("Water went in at", required=False)
    was_dough_c = celsius("Dough came out at", required=False)

    def __init__(self, asked: Mapping[str, str], planned: WaterForm, liquid: str) -> None:
        names = ("room_c", "flour_c", "preferment_c")
        usual = {f"was_{name}": planned.data.get(name, "") for name in names}
        super().__init__(asked, usual | {"was_liquid_c": "", "was_dough_c": ""}, "water")
        self.fields["was_liquid_c"].label = f"{liquid.capitalize()} went in at"
        if "preferment_c" not in planned.fields:
            del self.fields["was_preferment_c"]

    @property
    def is_complete(self) -> bool:
        """Whether it is valid and says what came out."""
        names = ("was_liquid_c", "was_dough_c")
        return self.is_valid() and all(self.cleaned_data[name] is not None for name in names)

    def at(self, planned: Temperatures) -> Temperatures:
        """The temperatures of that day; those not asked for here are as planned."""
        known = {name: getattr(planned, name) for name in Temperatures.__dataclass_fields__}
        known |= {
            name.removeprefix("was_"): value
            for name, value in self.cleaned_data.items()
            if name.removeprefix("was_") in known
        }
        return Temperatures(**known)

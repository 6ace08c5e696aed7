"""Recipes that hypothesis makes up, within the limits of the recipe book."""

from decimal import Decimal

from hypothesis import strategies as st

from recipes.core import written
from recipes.core.choices import ComponentKind, IngredientKind, StepKind, TemperatureOf, Worked
from recipes.core.heat.doneness import BreadKind
from recipes.core.pans.sizes import PanShape

# What the recipe book can hold: no NUL, and no halves of a character.
SIGNS = st.characters(exclude_characters="\0", exclude_categories=["Cs"])
LINE_SIGNS = st.characters(exclude_categories=["Cs", "Cc", "Zl", "Zp"])


def texts(most, *, least=0, signs=SIGNS):
    made = st.text(signs, min_size=least, max_size=most)
    return made.filter(str.strip) if least else made


def decimals(least, most, places):
    return st.decimals(
        Decimal(least), Decimal(most), places=places, allow_nan=False, allow_infinity=False
    )


MILLIMETERS = st.none() | st.integers(10, 10_000)
CELSIUS = st.none() | decimals("-30", "350", 1)
FLOURS = st.builds(written.NamedFlour, texts(80), texts(80, least=1), decimals("0.01", "100", 2))
STARTERS = st.builds(
    written.NamedIngredient,
    st.just(""),
    texts(80, least=1),
    st.just(IngredientKind.STARTER),
    st.none() | decimals("20", "500", 2),
    st.lists(FLOURS, max_size=3).map(tuple),
)
NOT_STARTERS = st.sampled_from(
    [kind for kind in IngredientKind if kind is not IngredientKind.STARTER]
)
# Those without a key are not in the table.
INGREDIENTS = (
    STARTERS
    | st.builds(written.NamedIngredient, st.just(""), texts(80, least=1), NOT_STARTERS)
    | st.sampled_from(
        [
            written.NamedIngredient("bread-flour", "Bread flour", IngredientKind.FLOUR),
            written.NamedIngredient("water", "Water", IngredientKind.LIQUID),
            written.NamedIngredient("egg", "Egg, whole", IngredientKind.EGG),
        ]
    )
)
LINES = st.builds(
    written.WrittenLine,
    INGREDIENTS,
    decimals("0.0001", "9999999.9999", 4),
    texts(40),
    texts(120),
)
STEPS = st.builds(
    written.WrittenStep,
    st.sampled_from(StepKind),
    texts(600, least=1),
    st.integers(0, 1440),
    st.integers(0, 10080),
    CELSIUS,
    st.none() | st.sampled_from(TemperatureOf),
    st.none() | st.sampled_from(Worked),
)


@st.composite
def parts(draw):
    kind = draw(st.sampled_from(ComponentKind))
    for_pieces = None
    if not kind.goes_into_dough:
        for_pieces = draw(st.integers(1, 2_147_483_647))
    return written.WrittenPart(
        kind=kind,
        name=draw(texts(60, least=1)),
        lines=tuple(draw(st.lists(LINES, min_size=1, max_size=4))),
        for_pieces=for_pieces,
        cooking_loss_percent=draw(decimals("0", "99.99", 2)),
    )


RECIPES = st.builds(
    written.WrittenRecipe,
    title=texts(100, least=1),
    piece_g=decimals("1", "20000", 1),
    parts=st.lists(parts(), min_size=1, max_size=3).map(tuple),
    steps=st.lists(STEPS, max_size=3).map(tuple),
    summary=texts(300),
    note=texts(2000),
    piece_name=texts(30, least=1),
    pieces=st.integers(1, 999),
    bake_loss_percent=decimals("0", "100", 2),
    dough_temperature_c=CELSIUS,
    core_temperature_c=CELSIUS,
    equipment=texts(200),
    bread_kind=st.none() | st.sampled_from(BreadKind),
    pan_shape=st.none() | st.sampled_from(PanShape),
    pan_length_mm=MILLIMETERS,
    pan_width_mm=MILLIMETERS,
    pan_depth_mm=MILLIMETERS,
    pan_water_ml=st.none() | st.integers(1, 100_000),
)

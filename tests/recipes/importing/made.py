"""Recipes that hypothesis makes up, within the limits of the recipe book."""

from decimal import Decimal

from hypothesis import strategies as st

from recipes.importing import record

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


CELSIUS = st.none() | decimals("-30", "350", 1)
# The first has no key: an ingredient that is not in the table.
INGREDIENTS = st.builds(
    record.IngredientName, st.just(""), texts(80, least=1), st.sampled_from(record.KINDS)
) | st.sampled_from(
    [
        record.IngredientName("bread-flour", "Bread flour", "flour"),
        record.IngredientName("water", "Water", "liquid"),
        record.IngredientName("egg", "Egg, whole", "egg"),
    ]
)
LINES = st.builds(
    record.LineRecord,
    INGREDIENTS,
    decimals("0.0001", "9999999.9999", 4),
    texts(40),
    texts(120),
)
STEPS = st.builds(
    record.StepRecord,
    st.sampled_from(record.STEP_KINDS),
    texts(600, least=1),
    st.integers(0, 1440),
    st.integers(0, 10080),
    CELSIUS,
    st.sampled_from(("", *record.TEMPERATURES_OF)),
    st.sampled_from(("", *record.WORKED)),
)


@st.composite
def parts(draw):
    kind = draw(st.sampled_from(record.PART_KINDS))
    for_pieces = None
    if kind in record.PARTS_FOR_PIECES:
        for_pieces = draw(st.integers(1, 2_147_483_647))
    return record.PartRecord(
        kind=kind,
        name=draw(texts(60, least=1)),
        lines=tuple(draw(st.lists(LINES, min_size=1, max_size=4))),
        for_pieces=for_pieces,
        cooking_loss_percent=draw(decimals("0", "99.99", 2)),
    )


RECIPES = st.builds(
    record.RecipeRecord,
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
)

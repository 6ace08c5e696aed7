"""Formulas and demands for the properties: any bread, any class, decimals of a keyboard."""

from decimal import Decimal

from hypothesis import strategies as st

from recipes.core.choices import ComponentKind
from recipes.core.formula import Formula, FormulaComponent, Line
from recipes.core.scaling import Baker, Demand
from recipes.core.weighing import Scales
from tests.recipes.core.breads import (
    BREAD_FLOUR,
    BUTTER,
    EGG,
    MILK,
    RYE,
    SALT,
    SESAME,
    WATER,
    YEAST,
)

INGREDIENTS = (BREAD_FLOUR, RYE, WATER, MILK, SALT, YEAST, BUTTER, EGG, SESAME)
STATIONS = ("Bench 1", "Bench 2", "Bench 3")


def decimals(least: str, most: str, places: int = 2) -> st.SearchStrategy[Decimal]:
    return st.decimals(min_value=Decimal(least), max_value=Decimal(most), places=places)


masses = decimals("0.01", "3000")
some_lines = st.lists(
    st.builds(Line, st.sampled_from(INGREDIENTS), masses), min_size=1, max_size=5
).map(tuple)
dough_parts = st.builds(
    FormulaComponent,
    st.sampled_from([kind for kind in ComponentKind if kind.goes_into_dough]),
    st.sampled_from(["First", "Second", "Third"]),
    some_lines,
)
surface_parts = st.builds(
    FormulaComponent,
    st.sampled_from([kind for kind in ComponentKind if not kind.goes_into_dough]),
    st.sampled_from(["Wash", "Seeds"]),
    some_lines,
    st.integers(1, 24),
)


@st.composite
def formulas(draw) -> Formula:
    """A dough with flour in it, up to two more parts of it, and at most one part on top."""
    flour = Line(BREAD_FLOUR, draw(masses))
    main = FormulaComponent(ComponentKind.DOUGH, "Dough", (flour, *draw(some_lines)))
    others = draw(st.lists(dough_parts, max_size=2)) + draw(st.lists(surface_parts, max_size=1))
    return Formula(
        "Any bread", (*others, main), draw(decimals("5", "2000")), draw(st.integers(1, 12))
    )


def bakers(
    station: st.SearchStrategy[str], brought: tuple[str, ...] = ("",)
) -> st.SearchStrategy[Baker]:
    """Somebody's dough, made in class or brought at one of the stages."""
    return st.builds(
        Baker,
        st.uuids().map(str),
        st.just("Somebody"),
        station,
        st.integers(1, 12),
        decimals("5", "2000"),
        st.sampled_from(brought),
        st.integers(0, 12) if any(brought) else st.just(1),
    )


kitchens = st.sampled_from(
    [Scales((Decimal(1),)), Scales((Decimal(1), Decimal("0.1"))), Scales((Decimal("0.01"),))]
)


@st.composite
def demands(draw) -> Demand:
    """At least one baker at three stations, doughs of the instructor's, loss and dusting."""
    return Demand(
        bakers=tuple(draw(st.lists(bakers(st.sampled_from(STATIONS)), min_size=1, max_size=8))),
        demonstrations=tuple(draw(st.lists(bakers(st.just(""), ("", "risen")), max_size=3))),
        handling_loss=draw(decimals("0", "0.5", 3)),
        dusting_g=draw(decimals("0", "40", 1)),
        dusting_flour=draw(st.sampled_from([None, BREAD_FLOUR, RYE])),
        scales=draw(kitchens),
    )

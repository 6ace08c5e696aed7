"""What is measured, on data made here."""

from __future__ import annotations

import gc
from decimal import Decimal
from functools import cache
from math import inf
from urllib.parse import urlencode

from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from classes.core.demand import ClassNeeds, Person, Taught, class_amounts
from classes.core.money import Money
from classes.core.shopping import Supply, shopping_list
from classes.models import ClassSession
from classes.selectors import class_plan
from handouts.kinds.handout import handouts
from handouts.kinds.station_cards import station_cards
from handouts.press.render import PageSize, to_pdf
from recipes.core.choices import ComponentKind
from recipes.core.formula import Formula, FormulaComponent, FormulaIngredient, Line
from recipes.core.weighing import Scales
from tests.bench.big_book import big_book
from tests.bench.demo_class import NOW, demo_class
from tests.bench.paper_measures import PAPER_MEASURES
from tests.bench.plan_measures import PLAN_MEASURES
from tests.bench.result import Result, median_ms
from tests.bench.seat_measures import SEAT_MEASURES
from tests.factories import planned_class


def _needs(students: int, ingredients: int) -> tuple[ClassNeeds, dict[str, Supply]]:
    things = [
        FormulaIngredient(f"thing-{n}", f"Thing {n}", is_flour=n < 3, water_share=Decimal("0.1"))
        for n in range(ingredients)
    ]
    lines = tuple(Line(thing, Decimal(10 + 7 * n)) for n, thing in enumerate(things))
    formula = Formula(
        "Bread", (FormulaComponent(ComponentKind.DOUGH, "Dough", lines),), Decimal(520)
    )
    taught = Taught(
        "bread", "Bread, revision 1", formula, 1, Decimal(520), 1, Decimal(15), things[0]
    )
    people = tuple(Person(f"p{n}", f"Person {n}", f"Bench {n // 4}") for n in range(students))
    scales = Scales((Decimal(1), Decimal("0.1")))
    supplies = {
        thing.key: Supply(
            on_hand_g=Decimal(50 * n), pack_g=Decimal(500), pack_price=Money(120, "EUR")
        )
        for n, thing in enumerate(things)
    }
    return ClassNeeds((taught,), people, Decimal("0.03"), scales), supplies


def amounts_ms() -> Result:
    """Scaling and shopping for 24 students and 14 ingredients, in process."""
    needs, supplies = _needs(24, 14)

    def work() -> object:
        return shopping_list(class_amounts(needs).needs, supplies, needs.scales, "EUR")

    return Result("amounts_ms", median_ms(work, runs=200), "ms", "goal", 1)


def handout_warm_ms() -> Result:
    """One student's handout of the demo, from values to PDF bytes, in a warm process."""
    session = ClassSession.objects.with_plan().get(pk=demo_class().pk)
    gc.freeze()  # as the server does
    plan = class_plan(session)

    def work() -> object:
        return to_pdf(handouts(plan, plan.students[:1], NOW), PageSize.A4)

    return Result("handout_warm_ms", median_ms(work, runs=9, warm=2), "ms", "goal", 300)


def station_card_ms() -> Result:
    """One station card of the demo with its hours, from values to PDF bytes, in a warm process."""
    session = ClassSession.objects.with_plan().get(pk=demo_class().pk)
    gc.freeze()  # as the server does
    plan = class_plan(session)
    hours = plan.hours

    def work() -> object:
        return to_pdf(station_cards(plan, NOW, hours)[:1], PageSize.A4)

    return Result("station_card_ms", median_ms(work, runs=21, warm=3), "ms", "goal", 60)


def _queries_of_amounts(students: int) -> int:
    session = planned_class(students=students, seats=60, kitchen__stations=15)
    client = Client()
    client.force_login(session.instructor)
    with CaptureQueriesContext(
        connection,
    ) as seen:
        assert client.get(reverse("classes:amounts", args=[session.code])).status_code == 200
    return len(seen)


def amounts_page_queries() -> Result:
    """Queries of the amounts page with 60 students, against those with 6."""
    few = _queries_of_amounts(6)
    return Result(
        "amounts_page_queries", _queries_of_amounts(60), "queries", "the page with 6 students", few
    )


RECIPES = 10_000
MOST_QUERIES = 11


@cache
def _reader_of_thousands() -> Client:
    """Somebody signed in whose book holds 10,000 recipes."""
    client = Client()
    client.force_login(big_book(RECIPES))
    return client


def recipe_page_ms_10k() -> Result:
    """A whole recipe page, server time, in a book of 10,000 recipes."""
    address = reverse("recipes:detail", args=[f"big-{RECIPES // 2}"])
    page_ms = _page_ms(_reader_of_thousands(), address, MOST_QUERIES)
    return Result("recipe_page_ms_10k", page_ms, "ms", "goal", 100)


def recipe_list_ms_10k() -> Result:
    """The first page of the list of 10,000 recipes."""
    page_ms = _page_ms(_reader_of_thousands(), reverse("recipes:list"), MOST_QUERIES)
    return Result("recipe_list_ms_10k", page_ms, "ms", "goal", 100)


def recipe_search_ms_10k() -> Result:
    """A search by words, ingredient, two allergens and time over 10,000 recipes."""
    everything = {
        "q": "1",
        "ingredient": "thing",
        "holds": "us:wheat",
        "without": "us:egg",
        "time": "8 h",
        "page": "3",
    }
    address = f"{reverse('recipes:list')}?{urlencode(everything)}"
    page_ms = _page_ms(_reader_of_thousands(), address)
    return Result("recipe_search_ms_10k", page_ms, "ms", "goal", 250)


def _page_ms(client: Client, address: str, most_queries: int | None = None) -> float:
    """The median time of a page; one that asks more of the database than it may counts as lost."""
    with CaptureQueriesContext(connection) as seen:
        assert client.get(address).status_code == 200
    if most_queries is not None and len(seen) > most_queries:
        return inf
    return median_ms(lambda: client.get(address), runs=21)


MEASURES = (
    amounts_ms,
    handout_warm_ms,
    station_card_ms,
    amounts_page_queries,
    recipe_page_ms_10k,
    recipe_list_ms_10k,
    recipe_search_ms_10k,
    *PAPER_MEASURES,
    *PLAN_MEASURES,
    *SEAT_MEASURES,
)

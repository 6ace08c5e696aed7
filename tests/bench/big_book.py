"""A recipe book of thousands, made in bulk: each recipe has two parts and seven steps."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from django.contrib.auth.models import AbstractUser

from recipes.core.choices import IngredientKind
from recipes.models import Component, FormulaLine, Ingredient, Recipe, Revision, Step
from tests.factories import UserFactory

AT_ONCE = 500
STEPS = ("prepare", "mix", "bulk", "divide", "proof", "bake", "cool")


def big_book(recipes: int) -> AbstractUser:
    """The owner of so many recipes, `big-0` and on."""
    owner = UserFactory(username="big-book")
    shelf = _shelf()
    made = Recipe.objects.bulk_create(
        (Recipe(owner=owner, slug=f"big-{n}") for n in range(recipes)), batch_size=AT_ONCE
    )
    revisions = Revision.objects.bulk_create(
        (
            Revision(
                recipe=recipe,
                title=f"Bread {n * 7919 % recipes:05}",
                summary="One of very many.",
                note="A note as long as people write. " * 12,
                piece_g=500,
                bake_loss_percent=12,
                bread_kind="lean",
            )
            for n, recipe in enumerate(made)
        ),
        batch_size=AT_ONCE,
    )
    Step.objects.bulk_create(_steps(revisions), batch_size=AT_ONCE)
    parts = Component.objects.bulk_create(_parts(revisions), batch_size=AT_ONCE)
    FormulaLine.objects.bulk_create(_lines(parts, shelf), batch_size=AT_ONCE)
    return owner


def _shelf() -> list[Ingredient]:
    """Twelve ingredients with all figures, the first a flour and the second a liquid."""
    figures = dict.fromkeys(("water_percent", "protein_percent", "fat_percent", "ash_percent"), 10)
    figures |= {"carbohydrate_percent": 60, "fiber_percent": 3, "sodium_mg": 5, "energy_kcal": 300}
    kinds = list(IngredientKind)
    return Ingredient.objects.bulk_create(
        Ingredient(
            key=f"big-thing-{n}",
            name=f"Thing {n}",
            kind=kinds[n],
            allergens_us=["wheat"] if n % 3 == 0 else [],
            allergens_eu=["gluten-cereals"] if n % 3 == 0 else [],
            **figures,
        )
        for n in range(12)
    )


def _steps(revisions: Sequence[Revision]) -> Iterator[Step]:
    for n, revision in enumerate(revisions):
        for position, kind in enumerate(STEPS):
            yield Step(
                revision=revision,
                position=position,
                kind=kind,
                text=f"Do as usual with thing {position}.",
                hands_on_min=10,
                waiting_min=n % 100,
            )


def _parts(revisions: Sequence[Revision]) -> Iterator[Component]:
    for revision in revisions:
        yield Component(revision=revision, position=0, kind="preferment", name="Poolish")
        yield Component(revision=revision, position=1, kind="dough", name="Dough")


def _lines(parts: Sequence[Component], shelf: Sequence[Ingredient]) -> Iterator[FormulaLine]:
    for n, part in enumerate(parts):
        things = shelf[:3] if part.kind == "preferment" else [*shelf[:2], *shelf[3 : 9 + n % 3]]
        for position, thing in enumerate(things):
            yield FormulaLine(
                component=part, position=position, ingredient=thing, mass_g=100 + position * 20
            )

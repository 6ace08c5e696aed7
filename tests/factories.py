"""The smallest valid objects. A test says only what matters to it.

`UserFactory` makes a member of the group "instructor" unless `role` says otherwise;
`RevisionFactory` makes a recipe of one dough unless it is given `parts`.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import UTC, datetime, timedelta
from decimal import Decimal
from typing import Any

import factory
from django.contrib.auth import get_user_model
from django.contrib.auth.models import Group
from factory.django import DjangoModelFactory

from classes import models as classes
from classes.enrollment.models import Enrollment
from recipes import models as recipes

PASSWORD = "a made-up pass phrase"


class UserFactory(DjangoModelFactory):
    """Somebody who can sign in; `role` is instructor, assistant or empty."""

    class Meta:
        model = get_user_model()
        skip_postgeneration_save = True

    class Params:
        password_text = PASSWORD

    username = factory.Sequence(lambda n: f"baker{n}")

    @factory.lazy_attribute
    def password(self) -> str:
        from django.contrib.auth.hashers import make_password

        return make_password(self.password_text)

    @factory.post_generation
    def role(self, create: bool, extracted: str | None, **kwargs: Any) -> None:
        name = "instructor" if extracted is None else extracted
        if create and name:
            self.groups.add(Group.objects.get_or_create(name=name)[0])


class IngredientFactory(DjangoModelFactory):
    """A shared ingredient without owner, unknown composition."""

    class Meta:
        model = recipes.Ingredient

    name = factory.Sequence(lambda n: f"Ingredient {n}")
    key = factory.Sequence(lambda n: f"ingredient-{n}")
    kind = "other"


def flour(**fields: Any) -> recipes.Ingredient:
    """The one shared bread flour of a test."""
    return _one("bread-flour", "Bread flour", kind="flour", **fields)


def water(**fields: Any) -> recipes.Ingredient:
    """The one shared water of a test."""
    fields = {"density_g_per_ml": Decimal(1), "water_percent": Decimal("99.9"), **fields}
    return _one("water", "Water", kind="liquid", tap=True, **fields)


def _one(key: str, name: str, **fields: Any) -> recipes.Ingredient:
    return recipes.Ingredient.objects.get_or_create(key=key, defaults={"name": name, **fields})[0]


class RecipeFactory(DjangoModelFactory):
    """A recipe without a revision; most tests want `RevisionFactory`."""

    class Meta:
        model = recipes.Recipe

    owner = factory.SubFactory(UserFactory)
    slug = factory.Sequence(lambda n: f"bread-{n}")


class ComponentFactory(DjangoModelFactory):
    """A part of a revision; `lines` maps ingredients to grams (or lists such pairs)."""

    class Meta:
        model = recipes.Component
        skip_postgeneration_save = True

    revision = factory.SubFactory("tests.factories.RevisionFactory", parts=())
    position = factory.LazyAttribute(lambda part: part.revision.components.count())
    kind = "dough"
    name = factory.LazyAttribute(lambda part: part.kind.capitalize())
    for_pieces = factory.LazyAttribute(
        lambda part: 1 if part.kind in recipes.BESIDE_DOUGH else None
    )

    @factory.post_generation
    def lines(
        self,
        create: bool,
        extracted: Mapping[recipes.Ingredient, Any] | Iterable[tuple[Any, Any]] | None,
        **kwargs: Any,
    ) -> None:
        pairs = {flour(): 100, water(): 60} if extracted is None else extracted
        pairs = pairs.items() if isinstance(pairs, Mapping) else pairs
        for position, (ingredient, mass_g) in enumerate(pairs):
            self.lines.create(position=position, ingredient=ingredient, mass_g=Decimal(str(mass_g)))


class StepFactory(DjangoModelFactory):
    class Meta:
        model = recipes.Step

    revision = factory.SubFactory("tests.factories.RevisionFactory")
    position = factory.LazyAttribute(lambda step: step.revision.steps.count())
    kind = "mix"
    text = "Mix until smooth."


class RevisionFactory(DjangoModelFactory):
    """Revision 1 of a recipe: one 160 g piece of 100 g flour and 60 g water, without steps.

    `parts` lists keyword arguments of `ComponentFactory`, `steps` those of `StepFactory`;
    `recipe__owner` says whose it is.
    """

    class Meta:
        model = recipes.Revision
        skip_postgeneration_save = True

    recipe = factory.SubFactory(RecipeFactory)
    title = factory.Sequence(lambda n: f"Bread {n}")
    piece_g = Decimal(160)

    @factory.post_generation
    def parts(
        self, create: bool, extracted: Iterable[Mapping[str, Any]] | None, **kwargs: Any
    ) -> None:
        for part in ({},) if extracted is None else extracted:
            ComponentFactory(revision=self, **part)

    @factory.post_generation
    def steps(
        self, create: bool, extracted: Iterable[Mapping[str, Any]] | None, **kwargs: Any
    ) -> None:
        for step in extracted or ():
            StepFactory(revision=self, **step)


class KitchenFactory(DjangoModelFactory):
    """A kitchen with one bench of four and a 1 g scale; `stations=2` gives more benches."""

    class Meta:
        model = classes.Kitchen
        skip_postgeneration_save = True

    owner = factory.SubFactory(UserFactory)
    name = factory.Sequence(lambda n: f"Kitchen {n}")

    @factory.post_generation
    def stations(self, create: bool, extracted: int | None, **kwargs: Any) -> None:
        for n in range(1 if extracted is None else extracted):
            self.stations.create(position=n, name=f"Bench {n + 1}", places=4)

    @factory.post_generation
    def scales(self, create: bool, extracted: Iterable[str] | None, **kwargs: Any) -> None:
        for step in ("1",) if extracted is None else extracted:
            self.scales.create(step_g=step)


class ClassSessionFactory(DjangoModelFactory):
    """A class of four seats at all benches of its kitchen, without recipe or roster."""

    class Meta:
        model = classes.ClassSession
        skip_postgeneration_save = True

    instructor = factory.SubFactory(UserFactory)
    kitchen = factory.SubFactory(KitchenFactory, owner=factory.SelfAttribute("..instructor"))
    title = factory.Sequence(lambda n: f"Class {n}")
    starts_at = datetime(2030, 5, 4, 10, tzinfo=UTC)
    currency = factory.SelfAttribute("kitchen.currency")
    ends_at = factory.LazyAttribute(lambda session: session.starts_at + timedelta(hours=4))
    seats = 4

    @factory.post_generation
    def stations(
        self, create: bool, extracted: Iterable[classes.Station] | None, **kwargs: Any
    ) -> None:
        self.stations.set(self.kitchen.stations.all() if extracted is None else extracted)

    @factory.post_generation
    def assistants(self, create: bool, extracted: Iterable[Any] | None, **kwargs: Any) -> None:
        self.assistants.set(extracted or ())


class EnrollmentFactory(DjangoModelFactory):
    """A student at the first bench of the class."""

    class Meta:
        model = Enrollment

    session = factory.SubFactory(ClassSessionFactory)
    position = factory.LazyAttribute(lambda student: student.session.enrollments.count())
    name = factory.Sequence(lambda n: f"Student {n}")
    station = factory.LazyAttribute(lambda student: student.session.stations.first())

    @classmethod
    def _create(cls, model_class: Any, *args: Any, **kwargs: Any) -> Any:
        """A typed-in person takes a seat; a booked one has it from the booking."""
        student = super()._create(model_class, *args, **kwargs)
        if student.booking is None:
            student.session.taken += 1
            student.session.save(update_fields=["taken"])
        return student


class TaughtRecipeFactory(DjangoModelFactory):
    """A recipe of the class's instructor, one piece each, with a demonstration batch."""

    class Meta:
        model = classes.TaughtRecipe

    session = factory.SubFactory(ClassSessionFactory)
    revision = factory.SubFactory(
        RevisionFactory,
        recipe__owner=factory.SelfAttribute("...session.instructor"),
        in_use=True,
    )
    piece_g = factory.LazyAttribute(lambda taught: taught.revision.piece_g)
    dusting_flour = factory.LazyFunction(flour)


def planned_class(*, students: int = 2, **fields: Any) -> classes.ClassSession:
    """A class ready for its amounts page: one recipe, and students dealt over the benches."""
    session = ClassSessionFactory(**fields)
    TaughtRecipeFactory(session=session)
    benches = list(session.stations.all())
    for n in range(students):
        EnrollmentFactory(session=session, station=benches[n % len(benches)])
    return session

"""The student's handout: their own grams and steps, and a square that opens them at home."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import datetime
from decimal import Decimal
from typing import ClassVar

import segno
from django.conf import settings
from django.urls import reverse

from classes.core.demand import TaughtAmounts
from classes.core.diets.heeds import Heed, beside_of, heeds_of
from classes.core.keys import PersonKey
from classes.plan import ClassPlan, Student
from handouts.kind import STUDENT, Leaf, Leaves, Material, PaperKind
from handouts.labels.lettering import lines_needed
from handouts.paper import Paper, paper_head
from handouts.recipe_card import RecipeCard, recipe_card
from handouts.safety.heeds import with_marks
from handouts.safety.values import FOOD, HEAT, Hazard
from handouts.site_address import printable_site
from handouts.step_grams import with_grams
from recipes.core.scaling import PersonAmounts

# Type and widths as in paper/handout.css, in points and millimeters.
TEXT_PT, LINE_MM, STEPS_WIDE_PT = (
    Decimal("10.5"),
    Decimal("4.5"),
    Decimal(80) * 72 / Decimal("25.4"),
)
BETWEEN_MM, ROW_MM, SIDE_MM, NOTES_MM = Decimal(2), Decimal(8), Decimal(165), Decimal(28)

CAPPED_MM = Decimal(35)  # a line on the height of the kitchen, and what it pushes down


@dataclass(frozen=True, slots=True)
class HandoutSheet:
    """A recipe as it lies on its sheet, by estimates on the safe side.

    `is_beside`: grams and steps stand side by side, with the notes below the shorter of them.
    """

    recipe: RecipeCard
    is_beside: bool
    notes_below_grams: bool


def handout_sheet(recipe: RecipeCard, *, below_notes: bool = False) -> HandoutSheet:
    """`below_notes`: the sheet begins with what its reader must not eat."""
    grams_mm, steps_mm = _grams_mm(recipe), _steps_mm(recipe)
    shorter_mm, longer_mm = sorted((grams_mm, steps_mm))
    capped = recipe.core is not None and recipe.core.capped
    room_mm = SIDE_MM - CAPPED_MM if capped else SIDE_MM
    return HandoutSheet(
        recipe,
        is_beside=not below_notes and max(shorter_mm + NOTES_MM, longer_mm) <= room_mm,
        notes_below_grams=grams_mm <= steps_mm,
    )


def _grams_mm(recipe: RecipeCard) -> Decimal:
    lines = [line.amount for part in recipe.parts for line in part.lines]
    noted = sum(bool(line.how or line.count or line.weighed.coarse) for line in lines)
    rows = len(lines) + 2 * len(recipe.parts) + 1
    return rows * ROW_MM + noted * LINE_MM


def _steps_mm(recipe: RecipeCard) -> Decimal:
    texts = [text for step in recipe.steps for text in (step.text, step.concern) if text]
    goes_in = [" ".join(f"1000 g {gram.name}," for gram in step.grams) for step in recipe.steps]
    lines = sum(
        lines_needed(text, TEXT_PT, STEPS_WIDE_PT)
        for text in (*texts, *filter(None, goes_in), ", ".join(recipe.equipment), recipe.note)
    )
    return (lines + 1) * LINE_MM + len(recipe.steps) * (LINE_MM + BETWEEN_MM)


@dataclass(frozen=True, kw_only=True)
class Handout(Paper):
    """One student's own paper; `home_address` opens their recipes for their kitchen at home.

    `heeds` say where a recipe contains what they told us, and `beside` what others weigh at their
    station: both are at the top, and only on this person's paper.
    """

    template: ClassVar[str] = "handouts/handout.html"
    style: ClassVar[str] = "handout"
    kept: ClassVar[frozenset[Hazard]] = FOOD | HEAT

    name: str
    station: str
    recipes: tuple[RecipeCard, ...]
    home_address: str = ""
    heeds: tuple[Heed, ...] = ()
    beside: tuple[str, ...] = ()

    @property
    def sheets(self) -> tuple[HandoutSheet, ...]:
        """The recipes, each as it lies on its sheet."""
        told = bool(self.heeds or self.beside)
        return tuple(
            handout_sheet(recipe, below_notes=told and n == 0)
            for n, recipe in enumerate(self.recipes)
        )

    @property
    def home_square(self) -> str:
        """The same address as a picture that a telephone can read."""
        return qr_picture(self.home_address) if self.home_address else ""

    @property
    def typed_address(self) -> tuple[str, str]:
        """The same to be typed, without its scheme: the site, and what follows it."""
        site, slash, path = self.home_address.partition("://")[2].partition("/")
        return site, f"{slash}{path.rstrip('/')}"


def handouts(
    plan: ClassPlan, students: Iterable[Student], printed_at: datetime
) -> tuple[Handout, ...]:
    """A handout for each of the students. Raises NothingTaught."""
    head, told = paper_head(plan, printed_at), plan.concerns_of
    return tuple(
        Handout(
            head=head,
            hazards=head.hazards,
            name=student.name,
            station=student.station,
            home_address=home_address(student),
            recipes=tuple(
                with_marks(
                    _card(plan, recipe, person),
                    recipe.taught.revision,
                    told.get(student.key),
                )
                for recipe in plan.amounts.recipes
                for person in recipe.amounts.persons
                if person.baker.key == student.key
            ),
            heeds=heeds_of(told.get(student.key)),
            beside=beside_of(told.get(student.key)),
        )
        for student in students
    )


def _card(plan: ClassPlan, recipe: TaughtAmounts, person: PersonAmounts) -> RecipeCard:
    card = recipe_card(plan, recipe, person)
    return replace(card, steps=with_grams(card.steps, card.parts))


def home_address(student: Student) -> str:
    """The short address of a student's recipes for their kitchen at home.

    Empty where the site has no address that others reach.
    """
    site = printable_site(settings.SITE_URL)
    return site and site + reverse("handouts:short_address", args=[student.home_code])


def handouts_of(material: Material) -> Mapping[PersonKey, Handout]:
    """Each student's own handout."""
    made = handouts(material.plan, material.students, material.at)
    return {student.key: handout for student, handout in zip(material.students, made, strict=True)}


def _leaves(material: Material) -> Leaves:
    made = material.once(handouts_of)
    for student in material.by_station:
        yield Leaf(str(student.pk), student.name, made[student.key])


KIND = PaperKind(
    "handouts",
    "Handouts for the class",
    "Each student’s own grams and steps, and a square that opens them at home.",
    STUDENT,
    _leaves,
    private=True,
    usual=False,
)


def qr_picture(address: str) -> str:
    """A `data:` address of the square, with the quiet border that the standard asks for."""
    square = segno.make_qr(address, error="m")
    return square.svg_data_uri(xmldecl=False, svgns=True, encode_minimal=False)

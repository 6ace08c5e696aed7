"""Every kind of paper that a class has, and what it is for."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import partial

from handouts import makers
from handouts.makers import Leaf, Leaves
from handouts.material import Material
from handouts.not_printed import NO_RECIPE, NotPrinted
from handouts.paper import NoRecipe, PaperError
from handouts.run_sheet.sheet import Edition


@dataclass(frozen=True, slots=True)
class Kind:
    """A kind of paper. `name` is used in addresses and file names.

    A private kind holds what people must not eat, or how to reach them. What is not `usual` is
    left out of a pack until somebody asks for it. Labels have sheets of their own.
    """

    name: str
    title: str
    purpose: str
    place: str
    make: Callable[[Material], Leaves]
    private: bool = False
    usual: bool = True
    are_labels: bool = False

    def leaves(self, material: Material) -> list[Leaf]:
        """The papers of a class, at least one. Raises NotPrinted."""
        try:
            return list(self.make(material))
        except NoRecipe:
            raise NO_RECIPE from None
        except PaperError as error:
            raise NotPrinted(409, "Nothing to print", str(error)) from error


STUDENT, AHEAD, BENCH, WALL, DOOR = (
    "For each student",
    "Before the day",
    "At the bench",
    "On the wall",
    "At the door",
)

KINDS: tuple[Kind, ...] = (
    Kind(
        "at-home",
        "Handouts for home",
        "The recipes for each student’s own kitchen, theirs to keep.",
        STUDENT,
        makers.for_home,
        private=True,
    ),
    Kind(
        "handouts",
        "Handouts for the class",
        "Each student’s own grams and steps, and a square that opens them at home.",
        STUDENT,
        makers.for_class,
        private=True,
        usual=False,
    ),
    Kind(
        "before-the-day",
        "Before the day",
        "What to bring, to read and to know. Students have it behind their own link.",
        STUDENT,
        makers.before_the_day,
        private=True,
        usual=False,
    ),
    Kind(
        "preparation",
        "Shopping and mise en place",
        "What to buy, what to make ahead, and a page for each station to check off.",
        AHEAD,
        makers.preparation,
        private=True,
    ),
    Kind(
        "tub-labels",
        "Tub labels",
        "For each station and part: what is in it, grams, allergens, and until when.",
        AHEAD,
        makers.labels_for_tubs,
        are_labels=True,
    ),
    Kind(
        "refrigerator-labels",
        "Refrigerator labels",
        "For everything that is kept cold: for which class, since and until when.",
        AHEAD,
        makers.labels_for_refrigerators,
        usual=False,
        are_labels=True,
    ),
    Kind(
        "run-sheet-instructor",
        "Run sheet, instructor",
        "The class by the clock: what to show, say and decide.",
        BENCH,
        partial(makers.run_sheet, edition=Edition.INSTRUCTOR),
    ),
    Kind(
        "run-sheet-assistant",
        "Run sheet, assistant",
        "The same hours with ovens, mixers, cabinet, benches and cleaning up.",
        BENCH,
        partial(makers.run_sheet, edition=Edition.ASSISTANT),
    ),
    Kind(
        "station-cards",
        "Station cards",
        "A page to stand on each bench, readable at arm’s length.",
        BENCH,
        makers.station_cards,
    ),
    Kind(
        "oven-map",
        "Oven map",
        "Which bread lies where in which load, and when it goes in and comes out.",
        BENCH,
        makers.map_of_ovens,
    ),
    Kind(
        "temperature-log",
        "Temperature log",
        "What to measure and what to expect, with room to write.",
        BENCH,
        makers.log_of_temperatures,
    ),
    Kind(
        "notes",
        "Notes sheet",
        "Ruled lines for what went well and what to change.",
        BENCH,
        makers.sheet_for_notes,
        usual=False,
    ),
    Kind(
        "station-notices",
        "Station notices",
        "What a station avoids, in large letters and without names.",
        WALL,
        makers.notices,
    ),
    Kind(
        "emergency-card",
        "Emergency card",
        "Whom to call, where the first-aid box is, and what to do first.",
        WALL,
        makers.emergencies,
    ),
    Kind(
        "oven-signs",
        "Oven signs",
        "For each oven: dough inside, and hot.",
        WALL,
        makers.signs_for_ovens,
    ),
    Kind(
        "allergen-sheet",
        "Allergen sheet",
        "What people told, against every recipe, topping, wash, dusting and pack.",
        DOOR,
        makers.must_not_eat,
        private=True,
    ),
    Kind(
        "sign-in",
        "Sign-in sheet",
        "Who is coming, with rows for walk-ins and the question that comes first.",
        DOOR,
        makers.to_sign_in,
    ),
)

BY_NAME = {kind.name: kind for kind in KINDS}

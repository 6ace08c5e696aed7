"""Papers that cannot be made, each with what to do about it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import wraps

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from classes.home_kitchen.values import PaperSize
from handouts.paper import NoRecipe

View = Callable[..., HttpResponse]


@dataclass(eq=False)
class NotPrinted(Exception):
    """A paper that cannot be made, in words for the person who asked."""

    status: int
    heading: str
    advice: str


NOBODY = NotPrinted(
    409, "Nobody is baking yet", "Add students to the roster, or a demonstration to a recipe."
)
NO_STUDENTS = NotPrinted(
    409, "No students yet", "Handouts carry names. Add students to the roster first."
)
NO_PEOPLE = NotPrinted(
    409, "Nobody is at a station yet", "Add students to the roster, or plan for empty seats."
)
NO_RECIPE = NotPrinted(409, "No recipe yet", "Choose a recipe for the class first.")
NOTHING_BAKED = NotPrinted(
    409, "Nothing is baked", "No recipe of the class has a step that bakes, so no oven has a load."
)
NO_STATION = NotPrinted(409, "No station yet", "Choose the stations that the class uses first.")
MARKED_ABSENT = NotPrinted(
    409, "You were marked absent", "Nothing was weighed for you. Ask the instructor for the recipe."
)
NOT_READY = NotPrinted(
    409, "Not ready yet", "The class is still being prepared. Check again a few days before it."
)
UNKNOWN_SIZE = NotPrinted(400, "Unknown paper size", "Papers come as ?page=a4 and as ?page=letter.")

UNKNOWN_LAYOUT = NotPrinted(400, "Unknown sheet of labels", "Choose one at the print desk.")


def other_sheet(page_size: str) -> NotPrinted:
    """Labels that were asked for on a sheet they are not made for."""
    return NotPrinted(400, "These labels are for other sheets", on_other_sheets(page_size))


def on_other_sheets(page_size: str) -> str:
    """What to do about labels that are made for sheets of another size."""
    name = PaperSize(page_size).label
    return f"These labels come on {name}. Choose labels for your sheets, or {name} sheets."


def in_words(view: View) -> View:
    """Answer NotPrinted with a page that says what to do."""

    @wraps(view)
    def wrapped(request: HttpRequest, *args: object, **kwargs: object) -> HttpResponse:
        try:
            return view(request, *args, **kwargs)
        except NoRecipe:
            problem = NO_RECIPE
        except NotPrinted as error:
            problem = error
        context = {"problem": problem, "code": kwargs.get("code")}
        return render(request, "handouts/not_printed.html", context, status=problem.status)

    return wrapped

"""Responses of the views of papers: the requested sheet, and a file."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from classes.home_kitchen.values import PaperSize
from handouts.kind import NO_RECIPE, NotPrinted, PaperKind
from handouts.paper import NothingTaught
from handouts.preparing.arranged import ListBy
from handouts.press.render import PageSize
from handouts.print_desk.sheets import OtherSize, PrintSheets
from wording.writing import Writing

View = Callable[..., HttpResponse]
UNKNOWN_SIZE = NotPrinted(400, "Unknown paper size", "Papers come as ?page=a4 and as ?page=letter.")
UNKNOWN_ORDER = NotPrinted(400, "Unknown order", "The list is ?by=station or ?by=ingredient.")
UNKNOWN_LAYOUT = NotPrinted(400, "Unknown sheet of labels", "Choose one at the print desk.")


def page_size_of(request: HttpRequest, writing: Writing) -> PageSize:
    """The requested sheet, the kitchen's if none is. Raises NotPrinted."""
    try:
        return PageSize(request.GET.get("page", writing.sheet))
    except ValueError:
        raise UNKNOWN_SIZE from None


def sheets_offered(writing: Writing) -> list[PaperSize]:
    """The sheets that a page offers, the kitchen's first."""
    return sorted(PaperSize, key=lambda size: size != writing.sheet)


def sheets_of(request: HttpRequest, kind: PaperKind, writing: Writing) -> PrintSheets:
    """The requested sheets, else the kitchen's; labels' matter only for labels.

    Raises NotPrinted.
    """
    page_size = page_size_of(request, writing)
    if not kind.are_labels:
        return PrintSheets(page_size, list_by=_order_of(request))
    labels = request.GET.get("labels", "")
    try:
        return PrintSheets.of("" if labels and "page" not in request.GET else page_size, labels)
    except OtherSize as error:
        raise other_sheet(error.labels.page_size) from None
    except ValueError:
        raise UNKNOWN_LAYOUT from None


def _order_of(request: HttpRequest) -> ListBy:
    try:
        return ListBy(request.GET.get("by", ListBy.STATION))
    except ValueError:
        raise UNKNOWN_ORDER from None


def pdf_response(pdf: bytes, name: str) -> HttpResponse:
    """A PDF to be saved as `name`, kept out of search engines."""
    response = HttpResponse(pdf, content_type="application/pdf")
    response["Content-Disposition"] = f'attachment; filename="{name}.pdf"'
    response["X-Robots-Tag"] = "noindex, nofollow"
    return response


def other_sheet(page_size: str) -> NotPrinted:
    """Labels were asked for on a sheet they are not made for."""
    return NotPrinted(400, "These labels are for other sheets", on_other_sheets(page_size))


def on_other_sheets(page_size: str) -> str:
    """What to do about labels that are made for sheets of another size."""
    name = PaperSize(page_size).label
    return f"These labels come on {name}. Choose labels for your sheets, or {name} sheets."


def in_words(view: View) -> View:
    """Turns NotPrinted into a page that says what to do."""

    @wraps(view)
    def wrapped(request: HttpRequest, *args: object, **kwargs: object) -> HttpResponse:
        try:
            return view(request, *args, **kwargs)
        except NothingTaught:
            problem = NO_RECIPE
        except NotPrinted as error:
            problem = error
        context = {"problem": problem, "code": kwargs.get("code")}
        return render(request, "handouts/not_printed.html", context, status=problem.status)

    return wrapped

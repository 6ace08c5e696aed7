"""What the views of papers answer with: the sheet that was asked for, and a file."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse

from handouts.catalog import Kind
from handouts.not_printed import UNKNOWN_LAYOUT, UNKNOWN_SIZE, other_sheet
from handouts.press.render import PageSize
from handouts.print_desk.sheets import OtherSize, Sheets


def page_size_of(request: HttpRequest) -> PageSize:
    """The sheet that is asked for, A4 if none is. Raises NotPrinted."""
    try:
        return PageSize(request.GET.get("page", PageSize.A4))
    except ValueError:
        raise UNKNOWN_SIZE from None


def sheets_of(request: HttpRequest, kind: Kind) -> Sheets:
    """The sheets that are asked for; those of labels matter where labels are. Raises NotPrinted."""
    if not kind.are_labels:
        return Sheets(page_size_of(request))
    page_size = page_size_of(request) if "page" in request.GET else ""
    try:
        return Sheets.of(page_size, request.GET.get("labels", ""))
    except OtherSize as error:
        raise other_sheet(error.labels.page_size) from None
    except ValueError:
        raise UNKNOWN_LAYOUT from None


def pdf_response(pdf: bytes, name: str) -> HttpResponse:
    """A PDF to be saved as `name`, kept out of search engines."""
    response = HttpResponse(pdf, content_type="application/pdf")
    response["Content-Disposition"] = f'attachment; filename="{name}.pdf"'
    response["X-Robots-Tag"] = "noindex, nofollow"
    return response

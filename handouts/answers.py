"""What the views of papers answer with: the sheet that was asked for, and a file."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse

from handouts.label_layouts import LabelLayout
from handouts.not_printed import UNKNOWN_LAYOUT, UNKNOWN_SIZE
from handouts.render import PageSize


def page_size_of(request: HttpRequest) -> PageSize:
    """The sheet that is asked for, A4 if none is. Raises NotPrinted."""
    try:
        return PageSize(request.GET.get("page", PageSize.A4))
    except ValueError:
        raise UNKNOWN_SIZE from None


def layout_of(request: HttpRequest) -> str:
    """The sheet of labels that is asked for, empty if none is. Raises NotPrinted."""
    layout = request.GET.get("labels", "")
    if layout and layout not in LabelLayout:
        raise UNKNOWN_LAYOUT
    return layout


def pdf_response(pdf: bytes, name: str) -> HttpResponse:
    """A PDF to be saved as `name`, kept out of search engines."""
    response = HttpResponse(pdf, content_type="application/pdf")
    response["Content-Disposition"] = f'attachment; filename="{name}.pdf"'
    response["X-Robots-Tag"] = "noindex, nofollow"
    return response

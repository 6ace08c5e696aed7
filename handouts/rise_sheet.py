"""The paper of a recipe's rise in a kitchen: the chart and the tables of the page, printed."""

from __future__ import annotations

from dataclasses import dataclass

from django.http import HttpResponse
from django.shortcuts import redirect
from django.template.loader import render_to_string
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_safe

from classes.core.regions import Region
from classes.dough import shown as bench
from classes.dough.refusals import Refusal
from classes.dough.rise_form import RiseForm
from classes.dough.shown import RiseAnswer
from classes.dough.views import where_asked
from config.requests import UserRequest
from handouts.answers import in_words, page_size_of
from handouts.press.render import print_html, printable
from handouts.safety.cautions import DEFERRAL, cautions_for
from handouts.safety.foot import CautionFoot
from handouts.safety.values import Hazard
from recipes.access import instructor_required
from recipes.selectors import revision_of
from wording.moments import Moment
from wording.writing import PLAIN, Writing

HAZARDS = frozenset({Hazard.HANDS, Hazard.FLOUR})


@dataclass(frozen=True, slots=True)
class RiseSheet:
    """The printed values; an unsaved kitchen has no name."""

    title: str
    revision: str
    kitchen: str
    answer: RiseAnswer
    made: Moment
    region: Region = Region.ALL
    writing: Writing = PLAIN

    @property
    def foot(self) -> CautionFoot:
        """The cautions below the content."""
        return CautionFoot(cautions_for(HAZARDS, self.region, self.writing))

    @property
    def deferral(self) -> str:
        """The line that says that the local authority outranks the paper."""
        return DEFERRAL

    @property
    def printed(self) -> str:
        """Such as `25 April 2030, 09:30, Europe/Dublin`."""
        return self.made.stamp


def sheet_html(sheet: RiseSheet) -> str:
    """The sheet's markup; all text in it is escaped, and unprintable characters are left out."""
    return printable(
        render_to_string("handouts/rise.html", {"paper": sheet, "writing": sheet.writing})
    )


@require_safe
@instructor_required
@in_words
def rise_pdf(request: UserRequest, slug: str) -> HttpResponse:
    """The rise page as a paper; with an invalid figure, a redirect to the page."""
    revision, where = revision_of(request.user, slug), where_asked(request, request.GET)
    page_size = page_size_of(request, where.kitchen.writing)
    form = RiseForm(request.GET, revision, where.kitchen)
    answer = bench.rise_answer(form) if form.is_valid() else None
    if answer is None or isinstance(answer, Refusal):
        return redirect(f"{reverse('classes:rise', args=[slug])}?{request.GET.urlencode()}")
    sheet = RiseSheet(
        title=revision.title,
        revision=str(revision),
        kitchen=where.kitchen.name,
        answer=answer,
        made=where.kitchen.moment(timezone.now()),
        region=Region(where.kitchen.guidance),
        writing=where.kitchen.writing,
    )
    pdf = print_html([sheet_html(sheet)], "rise", page_size)
    response = HttpResponse(pdf, content_type="application/pdf")
    response["Content-Disposition"] = f'attachment; filename="rise-{slug}-{page_size}.pdf"'
    return response

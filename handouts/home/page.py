"""The page "At home" behind a student's own link, also as PDF."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_safe

from classes.access import enrollment_by_home_token
from classes.core.keys import PersonKey
from classes.enrollment.limits import limit_posts
from classes.enrollment.models import Enrollment
from classes.enrollment.views.own_page import home_page
from classes.home_kitchen.forms import HomeForm
from classes.home_kitchen.selectors import shelf_of
from classes.home_kitchen.services import keep_home
from classes.home_kitchen.values import HomeKitchen
from classes.plan import ClassPlan
from config.forms.editing import Form, edited
from handouts.answers import in_words, page_size_of, pdf_response
from handouts.kinds.at_home import AtHome, baked_by
from handouts.kinds.at_home import at_home as paper_at_home
from handouts.kinds.handout import handouts
from handouts.press.render import to_pdf
from handouts.student_views import own_plan


@require_http_methods(["GET", "HEAD", "POST"])
@limit_posts
@home_page
@in_words
def at_home(request: HttpRequest, own: Enrollment, token: str) -> HttpResponse:
    """The recipes for the saved kitchen; a POST saves another one."""
    plan = own_plan(own)
    baked = baked_by(plan, plan.student[PersonKey.student(own.pk)])

    def saved(fresh: Enrollment, parts: tuple[HomeForm]) -> str:
        keep_home(enrollment=fresh, kitchen=parts[0].kitchen())
        messages.success(request, "Saved. The recipes below are now for this kitchen.")
        return reverse("handouts:at_home", args=[token])

    page = Form(
        lambda: enrollment_by_home_token(token, at=timezone.now()),
        lambda fresh, data: (HomeForm(data, _kitchen(plan, fresh), baked),),
        saved,
        (Enrollment.objects.filter(pk=own.pk),),
        base="public/base.html",
    )
    edit = edited(request, page)
    if edit.answer:
        return edit.answer
    (form,) = edit.parts
    context = {"paper": _paper(plan, own), "form": form, "token": token, "is_kept": own.home}
    context["seen"] = edit.seen
    return render(request, "handouts/at_home.html", context)


@require_safe
@home_page
@in_words
def at_home_pdf(request: HttpRequest, own: Enrollment, token: str) -> HttpResponse:
    """The same on paper, in the saved page size unless another is asked for."""
    paper = _paper(own_plan(own), own)
    page_size = page_size_of(request, paper.kitchen.writing)
    pdf = to_pdf([paper], page_size)
    return pdf_response(pdf, f"{paper.head.code}-at-home-{page_size}")


def _paper(plan: ClassPlan, own: Enrollment) -> AtHome:
    student = plan.student[PersonKey.student(own.pk)]
    (handout,) = handouts(plan, [student], timezone.now())
    return paper_at_home(plan, student, _kitchen(plan, own), handout, shelf_of(plan))


def _kitchen(plan: ClassPlan, own: Enrollment) -> HomeKitchen:
    return HomeKitchen.of(own.home, HomeKitchen.near(plan.kitchen))

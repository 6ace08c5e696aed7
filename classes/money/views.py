"""Money: what bookings are charged and pay, what a class costs, and whether it pays."""

from __future__ import annotations

import secrets

from django.contrib import messages
from django.http import HttpResponse, QueryDict
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_GET, require_http_methods

from classes.access import class_taught_by
from classes.enrollment.services.bookings import note_payment, save_costs
from classes.models import ClassSession
from classes.money.accounts import account_of, accounts_of
from classes.money.accounts_csv import accounts_csv
from classes.money.costs import cost_sheet
from classes.money.fields import CostFormSet, CostRows, PaymentForm
from classes.sessions.row_views import RowSection, kept_objects, key_of, wants_row
from config.forms.editing import Form, edited
from config.forms.rows import leave_unchecked, with_row
from config.requests import UserRequest
from recipes.access import instructor_required


@require_http_methods(["GET", "HEAD", "POST"])
@instructor_required
def money(request: UserRequest, code: str) -> HttpResponse:
    """What was charged, came in and is owed, by booking, and whether the class pays."""
    session = class_taught_by(request.user, code)
    booking, form = None, None
    if request.method == "POST":
        booking = get_object_or_404(session.bookings, pk=key_of(request.POST.get("booking")))
        form = PaymentForm(request.POST, currency=session.currency)
        if form.is_valid():
            note_payment(
                booking=booking,
                amount=form.amount,
                means=form.cleaned_data["means"],
                paid_on=form.cleaned_data["paid_on"],
                note=form.cleaned_data["note"],
                form_key=form.cleaned_data["form_key"],
                user=request.user,
            )
            messages.success(request, "Written down.")
            return redirect("classes:money", code=session.code)
    elif chosen := request.GET.get("booking", ""):
        booking = get_object_or_404(session.bookings, pk=key_of(chosen))
        form = _payment_form(session)
    account = account_of(session)
    context = {
        "session": session,
        "account": account,
        "costs": cost_sheet(session, account),
        "booking": booking,
        "form": form,
        "section": "classes",
    }
    return render(request, "classes/money.html", context)


def _payment_form(session: ClassSession) -> PaymentForm:
    today = session.kitchen.moment(timezone.now()).date
    initial = {"form_key": secrets.token_urlsafe(24), "paid_on": today}
    return PaymentForm(currency=session.currency, initial=initial)


@require_http_methods(["GET", "HEAD", "POST"])
@instructor_required
def costs(request: UserRequest, code: str) -> HttpResponse:
    """What a class costs besides its ingredients, as rows."""
    added = wants_row(request)
    page = Form(
        lambda: class_taught_by(request.user, code),
        _cost_parts,
        lambda session, parts: _saved_costs(request, session, parts),
        (ClassSession.objects.taught_by(request.user).filter(code=code),),
    )
    edit = edited(request, page, again=with_row(request.POST, added) if added else None)
    if edit.answer:
        return edit.answer
    if added:
        leave_unchecked(edit.parts)
    session, (rows,) = edit.row, edit.parts
    hint = "Such as the hall, an assistant or travel."
    section = RowSection(rows, "Costs", "Add a cost", hint)
    context = {"session": session, "sections": [section], "seen": edit.seen}
    context["section"] = "classes"
    template = "classes/costs.html" + ("#form" if request.htmx else "")
    return render(request, template, context)


def _cost_parts(session: ClassSession, data: QueryDict | None) -> tuple[CostFormSet]:
    kwargs = {"currency": session.currency}
    return (CostRows(data, instance=session, prefix="costs", form_kwargs=kwargs),)


def _saved_costs(request: UserRequest, session: ClassSession, parts: tuple[CostFormSet]) -> str:
    kept, removed = kept_objects(*parts)
    save_costs(costs=kept, removed=removed)
    messages.success(request, "The costs are saved.")
    return reverse("classes:money", args=[session.code])


@require_GET
@instructor_required
def money_csv(request: UserRequest, code: str) -> HttpResponse:
    session = class_taught_by(request.user, code)
    account = account_of(session)
    text = accounts_csv([account], cost_sheet(session, account))
    return _csv_file(text, f"money-{session.code}.csv")


@require_GET
@instructor_required
def all_money(request: UserRequest) -> HttpResponse:
    """All classes of a year, as a page or with ?format=csv as a file."""
    year = _year(request)
    taught = (
        ClassSession.objects.taught_by(request.user)
        .filter(starts_at__year=year)
        .select_related("kitchen")
        .prefetch_related("bookings__payments")
    )
    accounts = list(accounts_of(taught))
    if request.GET.get("format") == "csv":
        return _csv_file(accounts_csv(accounts), f"money-{year}.csv")
    context = {"accounts": accounts, "year": year, "section": "classes"}
    return render(request, "classes/all_money.html", context)


def _year(request: UserRequest) -> int:
    asked = key_of(request.GET.get("year"))
    return asked if 2000 <= asked <= 9998 else timezone.now().year


def _csv_file(text: str, name: str) -> HttpResponse:
    response = HttpResponse(text, content_type="text/csv; charset=utf-8")
    response["Content-Disposition"] = f'attachment; filename="{name}"'
    return response

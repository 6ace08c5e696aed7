"""Accounts, for owners: who has one, and in which roles."""

from __future__ import annotations

from datetime import timedelta

from django.contrib import messages
from django.contrib.auth.models import User
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from config.backup.archive import last_backup
from config.forms.editing import Form, edited
from config.requests import UserRequest
from house.access import entry_token, member_by_key, owner_required
from house.forms import LAST_OWNER, MeasuresForm, MemberForm, NewMemberForm
from house.models import ENTRY_HOURS, Role
from house.selectors import (
    TEACHES,
    coming_with,
    is_last_owner,
    member_of,
    members,
    open_link,
    owners,
)
from house.services import (
    LastOwner,
    NameTaken,
    add_member,
    change_member,
    let_go,
    new_entry_link,
    take_back,
)
from recipes.services import set_home_region

OLD_AFTER = timedelta(days=7)
GIVE_LINK = f"Give them the link below. It opens once, within {ENTRY_HOURS} hours."


@require_GET
@owner_required
def people_list(request: UserRequest) -> HttpResponse:
    now = timezone.now()
    everybody, backup = members(at=now), last_backup()
    context = {
        "backup": backup,
        "backup_is_old": backup is not None and now - backup.at > OLD_AFTER,
        "here": [one for one in everybody if one.is_here],
        "gone": [one for one in everybody if not one.is_here],
        "section": "people",
    }
    return render(request, "house/people.html", context)


@require_http_methods(["GET", "POST"])
@owner_required
def measures(request: UserRequest) -> HttpResponse:
    """The home region of the recipe book."""

    def saved(_: None, parts: tuple[MeasuresForm]) -> str:
        region = parts[0].cleaned_data["home_region"]
        set_home_region(region=region)
        messages.success(request, f"Measures are those of: {region.label}.")
        return "house:people"

    edit = edited(request, Form(lambda: None, lambda _, data: (MeasuresForm(data),), saved))
    if edit.answer:
        return edit.answer
    return render(request, "house/measures.html", {"form": edit.parts[0], "section": "people"})


@require_http_methods(["GET", "POST"])
@owner_required
def person_new(request: UserRequest) -> HttpResponse:

    def saved(_: None, parts: tuple[NewMemberForm]) -> str | None:
        (form,) = parts
        try:
            user = add_member(**form.cleaned_data, at=timezone.now())
        except NameTaken:
            form.refuse_name()
            return None
        messages.success(request, f"{user.get_username()} is added. {GIVE_LINK}")
        return reverse("house:person", args=[user.pk])

    edit = edited(request, Form(lambda: None, lambda _, data: (NewMemberForm(data),), saved))
    if edit.answer:
        return edit.answer
    return render(request, "house/new.html", {"form": edit.parts[0], "section": "people"})


@require_http_methods(["GET", "POST"])
@owner_required
def person(request: UserRequest, pk: int) -> HttpResponse:
    """Somebody's facts and roles, their link, and the way out and back."""

    def saved(user: User, parts: tuple[MemberForm]) -> str | None:
        (form,) = parts
        try:
            change_member(user=user, **form.cleaned_data)
        except LastOwner:
            form.refuse_last_owner()
            return None
        messages.success(request, f"{user.get_username()} is saved.")
        gives_up = user == request.user and Role.OWNER not in form.cleaned_data["roles"]
        return "home" if gives_up else "house:people"

    page = Form(
        lambda: member_by_key(pk),
        lambda user, data: (MemberForm(data, user=user),),
        saved,
        (owners(), User.objects.filter(pk=pk)),
    )
    edit = edited(request, page)
    if edit.answer:
        return edit.answer
    context = _context(request, edit.row) | {"form": edit.parts[0], "seen": edit.seen}
    return render(request, "house/person.html", context)


def _context(request: UserRequest, user: User) -> dict[str, object]:
    now = timezone.now()
    link = open_link(user, at=now)
    path = reverse("house:enter", args=[entry_token(link)]) if link else ""
    coming = coming_with(user, at=now)
    return {
        "member": member_of(user, at=now),
        "link": request.build_absolute_uri(path) if link else "",
        "hours": ENTRY_HOURS,
        "coming": coming,
        "teaches": any(session.does == TEACHES for session in coming),
        "is_self": user == request.user,
        "is_last_owner": is_last_owner(user),
        "section": "people",
    }


@require_POST
@owner_required
def new_link(request: UserRequest, pk: int) -> HttpResponse:
    """A link for somebody else; one's own password is changed under one's account."""
    user = member_by_key(pk)
    if user == request.user or not user.is_active:
        raise Http404
    new_entry_link(user=user, at=timezone.now())
    messages.success(request, f"{user.get_username()} has a new link. {GIVE_LINK}")
    return redirect("house:person", pk=pk)


@require_POST
@owner_required
def person_let_go(request: UserRequest, pk: int) -> HttpResponse:
    user = member_by_key(pk)
    try:
        let_go(user=user)
    except LastOwner:
        messages.error(request, LAST_OWNER)
    else:
        messages.success(
            request, f"{user.get_username()} has been let go and is signed out everywhere."
        )
    return redirect("house:person", pk=pk)


@require_POST
@owner_required
def person_take_back(request: UserRequest, pk: int) -> HttpResponse:
    user = member_by_key(pk)
    take_back(user=user, at=timezone.now())
    messages.success(request, f"{user.get_username()} is back. {GIVE_LINK}")
    return redirect("house:person", pk=pk)

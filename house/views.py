"""Accounts, for owners: who has one, and in which roles; one's own account."""

from __future__ import annotations

from datetime import timedelta

from django.contrib import messages
from django.contrib.auth import update_session_auth_hash
from django.contrib.auth.decorators import login_not_required
from django.contrib.auth.models import User
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from classes.enrollment.limits import limit_posts, slow_guesses
from config.backup.archive import last_backup
from config.forms.editing import Edit, Form, edited
from config.forms.seen import seen_word
from config.requests import UserRequest
from house.access import entry_by_token, entry_token, member_by_key, owner_required
from house.forms import (
    LAST_OWNER,
    ChoosePasswordForm,
    FactsForm,
    MeasuresForm,
    MemberForm,
    NewMemberForm,
    OwnPasswordForm,
)
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
    LinkIsUsed,
    NameTaken,
    add_member,
    change_member,
    change_own_facts,
    change_password,
    choose_password,
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
        "here": [person for person in everybody if person.is_here],
        "gone": [person for person in everybody if not person.is_here],
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
    """Somebody's facts, roles and link, and closing or reopening their account."""

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
    """A link for somebody else; one's own password is changed on the account page."""
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


CHANGED = (
    "Your password is changed. You are signed out everywhere else, and your calendar has a new "
    "address."
)


@require_http_methods(["GET", "POST"])
def account(request: UserRequest) -> HttpResponse:
    """One's own name and e-mail."""
    edit = edited(request, _facts(request))
    return edit.answer or _account_page(request, edit, OwnPasswordForm(request))


def _facts(request: UserRequest) -> Form[User, tuple[FactsForm]]:
    def saved(user: User, parts: tuple[FactsForm]) -> str:
        change_own_facts(user=user, **parts[0].cleaned_data)
        messages.success(request, "Your account is saved.")
        return "house:account"

    own = User.objects.filter(pk=request.user.pk)
    return Form(own.get, lambda user, data: (FactsForm(data, user=user),), saved, (own,))


@sensitive_post_parameters()
@require_http_methods(["GET", "POST"])
def own_password(request: UserRequest) -> HttpResponse:
    """Change one's password with the current one."""
    form = OwnPasswordForm(request, request.POST if request.method == "POST" else None)
    if request.method == "POST" and form.is_valid():
        change_password(user=request.user, password=form.cleaned_data["new_password1"])
        update_session_auth_hash(request, request.user)
        messages.success(request, CHANGED)
        return redirect("house:account")
    facts = (FactsForm(user=request.user),)
    return _account_page(request, Edit(request.user, facts, seen_word(facts)), form)


def _account_page(
    request: UserRequest, facts: Edit[User, tuple[FactsForm]], password: OwnPasswordForm
) -> HttpResponse:
    context = {
        "facts": facts.parts[0],
        "seen": facts.seen,
        "password": password,
        "member": member_of(request.user, at=timezone.now()),
        "section": "account",
    }
    status = 429 if password.is_locked else 200
    return render(request, "house/account.html", context, status=status)


@sensitive_post_parameters()
@require_http_methods(["GET", "HEAD", "POST"])
@limit_posts
@login_not_required
@slow_guesses
def enter(request: HttpRequest, token: str) -> HttpResponse:
    """Choose a password with a link that opens once."""
    link = entry_by_token(token, at=timezone.now())
    form = ChoosePasswordForm(link.user, request.POST if request.method == "POST" else None)
    if request.method == "POST" and form.is_valid():
        try:
            choose_password(
                link=link, password=form.cleaned_data["new_password1"], at=timezone.now()
            )
        except LinkIsUsed:
            raise Http404 from None
        messages.success(request, "Your password is saved. Sign in with it from now on.")
        return redirect("sign-in")
    return render(request, "house/enter.html", {"form": form, "link": link})

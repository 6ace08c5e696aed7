"""One's own account, and the link at which somebody chooses a password."""

from __future__ import annotations

from django.contrib import messages
from django.contrib.auth import update_session_auth_hash
from django.contrib.auth.decorators import login_not_required
from django.contrib.auth.models import User
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods

from classes.enrollment.limits import limit_posts, slow_guesses
from config.forms.editing import Edit, Form, edited
from config.forms.seen import seen_word
from config.requests import UserRequest
from house.access import entry_by_token
from house.forms import ChoosePasswordForm, FactsForm, OwnPasswordForm
from house.selectors import member_of
from house.services import LinkIsUsed, change_own_facts, change_password, choose_password

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
    """A new password for who knows the old one."""
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
    """Choose a password at a link that opens once."""
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

"""Who may open the pages on accounts: owners; for everybody else they do not exist (404)."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from functools import wraps
from typing import Concatenate, ParamSpec

from django.contrib.auth.models import User
from django.core.signing import Signer
from django.http import Http404, HttpResponse
from django.shortcuts import get_object_or_404

from classes.access import row_of_signed
from config.requests import UserRequest
from house.models import EntryLink
from house.selectors import is_owner

Rest = ParamSpec("Rest")
View = Callable[Concatenate[UserRequest, Rest], HttpResponse]

_signer = Signer(salt="bakebench entry link")


def owner_required(view: View[Rest]) -> View[Rest]:
    """Show a page to owners; for anybody else signed in it does not exist (404)."""

    @wraps(view)
    def guarded(request: UserRequest, /, *args: Rest.args, **kwargs: Rest.kwargs) -> HttpResponse:
        if not is_owner(request.user):
            raise Http404
        return view(request, *args, **kwargs)

    return guarded


def member_by_key(pk: int) -> User:
    """Somebody with an account, open or closed; else 404."""
    return get_object_or_404(User.objects.select_related("entry_link"), pk=pk)


def entry_token(link: EntryLink) -> str:
    """The signed token in a link; it contains 128 random bits and nothing private."""
    return _signer.sign(f"{link.pk}-{link.link_nonce}")


def entry_by_token(token: str, *, at: datetime) -> EntryLink:
    """The link that a token opens; forged, replaced, used and expired ones get 404."""
    link = row_of_signed(_signer, token, EntryLink.objects.select_related("user"))
    if not link.opens(at):
        raise Http404
    return link

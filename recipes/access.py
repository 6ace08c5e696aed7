"""Who may open the recipe book: instructors, each their own recipes and ingredients."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import Concatenate, ParamSpec

from django.contrib.auth.models import AnonymousUser, User
from django.http import Http404, HttpRequest, HttpResponseBase
from django.utils.functional import SimpleLazyObject

from config.requests import UserRequest

INSTRUCTOR = "instructor"
_REMEMBERED = "_is_instructor"
Rest = ParamSpec("Rest")
View = Callable[Concatenate[UserRequest, Rest], HttpResponseBase]


def is_instructor(user: User | AnonymousUser) -> bool:
    """Whether the user is in the group "instructor" or a superuser; one query a request."""
    if not user.is_authenticated or not user.is_active:
        return False
    belongs: bool | None = getattr(user, _REMEMBERED, None)
    if belongs is None:
        belongs = user.is_superuser or user.groups.filter(name=INSTRUCTOR).exists()
        setattr(user, _REMEMBERED, belongs)
    return belongs


def instructor_required(view: View[Rest]) -> View[Rest]:
    """Show a page to instructors; for anybody else signed in it does not exist (404)."""

    @wraps(view)
    def guarded(
        request: UserRequest, /, *args: Rest.args, **kwargs: Rest.kwargs
    ) -> HttpResponseBase:
        if not is_instructor(request.user):
            raise Http404
        return view(request, *args, **kwargs)

    return guarded


def reader(request: HttpRequest) -> dict[str, object]:
    """`instructs`: whether the reader is an instructor; queried only when a template uses it."""
    return {"instructs": SimpleLazyObject(lambda: is_instructor(request.user))}

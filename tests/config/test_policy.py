"""The content security policy is worked out once, and yet a view could have its own."""

from __future__ import annotations

from csp.constants import HEADER, NONCE, SELF
from csp.decorators import csp_exempt, csp_update
from csp.middleware import CSPMiddleware
from django.http import HttpResponse
from django.test import RequestFactory

from config.middleware import SamePolicyMiddleware


def policies(middleware, *views) -> list[str | None]:
    """What one middleware answers to the views one after the other."""
    answers: list[str | None] = []
    for view in views:
        request = RequestFactory().get("/")
        middleware.get_response = view
        answers.append(middleware(request).headers.get(HEADER))
    return answers


def plain(request):
    return HttpResponse("x")


def with_nonce(request):
    return HttpResponse(str(request.csp_nonce))


changed = csp_update({"img-src": ["https://pictures.example"]})(plain)
none = csp_exempt()(plain)


def test_every_answer_has_the_policy_of_django_csp():
    (usual,) = policies(CSPMiddleware(plain), plain)
    assert policies(SamePolicyMiddleware(plain), plain, plain, plain) == [usual] * 3
    assert "default-src 'none'" in usual


def test_a_view_with_its_own_policy_leaves_the_others_theirs():
    (usual,) = policies(CSPMiddleware(plain), plain)
    first, second, third, last = policies(SamePolicyMiddleware(plain), changed, plain, none, plain)
    assert "https://pictures.example" in first
    assert third is None
    assert second == last == usual


def test_a_nonce_stands_in_the_policy_of_its_own_page_alone(settings):
    settings.CONTENT_SECURITY_POLICY = {"DIRECTIVES": {"script-src": [SELF, NONCE]}}
    first, second, third = policies(SamePolicyMiddleware(plain), with_nonce, plain, with_nonce)
    assert "nonce-" in first
    assert "nonce-" not in second
    assert "nonce-" in third
    assert first != third


def test_an_error_page_of_the_developer_has_none(settings):
    settings.DEBUG = True
    missing = lambda request: HttpResponse(status=404)  # noqa: E731
    assert policies(SamePolicyMiddleware(plain), plain, missing)[1] is None

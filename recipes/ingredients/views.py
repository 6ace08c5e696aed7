"""Ingredients: everybody's to read, one's own to add and change."""

from __future__ import annotations

from functools import partial

from django.contrib import messages
from django.http import HttpResponse, QueryDict
from django.shortcuts import render
from django.views.decorators.http import require_http_methods, require_safe

from config.forms.editing import Form, Row, edited
from config.requests import UserRequest
from recipes import selectors
from recipes.access import instructor_required
from recipes.book.views import searched
from recipes.editing.views import FORM_METHODS
from recipes.ingredients.forms import IngredientForm, initial_of
from recipes.ingredients.selectors import ingredient_groups, own_ingredient
from recipes.ingredients.services import add_ingredient, change_ingredient
from recipes.models import Ingredient


@instructor_required
@require_safe
def ingredient_list(request: UserRequest) -> HttpResponse:
    words = searched(request)
    groups = ingredient_groups(request.user, words)
    template = "recipes/_ingredients.html" if request.htmx else "recipes/ingredients.html"
    context = {"section": "ingredients", "groups": groups, "q": words, "word": "ingredient"}
    found = sum(len(group.entries) for group in groups)
    return render(request, template, context | {"found": found})


@instructor_required
@require_http_methods(FORM_METHODS)
def ingredient_new(request: UserRequest) -> HttpResponse:
    """A new ingredient, empty or filled in from the one whose key is in `like`."""
    like = selectors.ingredients_for(request.user).filter(key=request.GET.get("like", "")).first()
    initial = initial_of(like, request.user) if like else {}

    def saved(_: None, parts: tuple[IngredientForm]) -> str:
        added = add_ingredient(owner=request.user, values=parts[0].values, flours=parts[0].made_of)
        messages.success(request, f"{added.name} is on your list.")
        return "recipes:ingredients"

    def parts(_: None, data: QueryDict | None) -> tuple[IngredientForm]:
        return (IngredientForm(data, owner=request.user, initial=initial),)

    return _show(request, Form(lambda: None, parts, saved))


@instructor_required
@require_http_methods(FORM_METHODS)
def ingredient_edit(request: UserRequest, key: str) -> HttpResponse:

    def saved(own: Ingredient, parts: tuple[IngredientForm]) -> str:
        change_ingredient(ingredient=own, values=parts[0].values, flours=parts[0].made_of)
        messages.success(request, f"{own.name} is saved.")
        return "recipes:ingredients"

    def parts(own: Ingredient, data: QueryDict | None) -> tuple[IngredientForm]:
        initial = initial_of(own, request.user)
        return (IngredientForm(data, owner=request.user, ingredient=own, initial=initial),)

    held = Ingredient.objects.filter(owner=request.user, key=key)
    find = partial(own_ingredient, request.user, key)
    return _show(request, Form(find, parts, saved, (held,)))


def _show(request: UserRequest, form: Form[Row, tuple[IngredientForm]]) -> HttpResponse:
    edit = edited(request, form)
    if edit.answer:
        return edit.answer
    context = {"section": "ingredients", "form": edit.parts[0], "ingredient": edit.row}
    context["seen"] = edit.seen
    return render(request, "recipes/ingredient.html", context)

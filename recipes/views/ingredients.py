"""Ingredients: everybody's to read, one's own to add and change."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse, QueryDict
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods, require_safe

from recipes import selectors, services
from recipes.access import instructor_required
from recipes.forms.ingredients import IngredientForm, initial_of
from recipes.models import Ingredient
from recipes.views.book import searched
from recipes.views.editing import FORM_METHODS


@instructor_required
@require_safe
def ingredient_list(request: HttpRequest) -> HttpResponse:
    words = searched(request)
    groups = selectors.ingredient_groups(request.user, words)
    template = "recipes/_ingredients.html" if request.htmx else "recipes/ingredients.html"
    context = {"section": "ingredients", "groups": groups, "q": words, "word": "ingredient"}
    found = sum(len(group.entries) for group in groups)
    return render(request, template, context | {"found": found})


@instructor_required
@require_http_methods(FORM_METHODS)
def ingredient_new(request: HttpRequest) -> HttpResponse:
    """A new ingredient, empty or filled in like the one whose key is asked for with `like`."""
    like = selectors.ingredients_for(request.user).filter(key=request.GET.get("like", "")).first()
    initial = initial_of(like) if like else {}
    form = IngredientForm(_posted(request), owner=request.user, initial=initial)
    if form.is_bound and form.is_valid():
        saved = services.add_ingredient(owner=request.user, values=form.values)
        messages.success(request, f"{saved.name} is on your list.")
        return redirect("recipes:ingredients")
    return _show(request, form, None)


@instructor_required
@require_http_methods(FORM_METHODS)
def ingredient_edit(request: HttpRequest, key: str) -> HttpResponse:
    own = selectors.own_ingredient(request.user, key)
    form = IngredientForm(
        _posted(request), owner=request.user, ingredient=own, initial=initial_of(own)
    )
    if form.is_bound and form.is_valid():
        saved = services.change_ingredient(ingredient=own, values=form.values)
        messages.success(request, f"{saved.name} is saved.")
        return redirect("recipes:ingredients")
    return _show(request, form, own)


def _posted(request: HttpRequest) -> QueryDict | None:
    return request.POST if request.method == "POST" else None


def _show(request: HttpRequest, form: IngredientForm, own: Ingredient | None) -> HttpResponse:
    context = {"section": "ingredients", "form": form, "ingredient": own}
    return render(request, "recipes/ingredient.html", context)

"""Photos of a recipe: the page that adds and removes them, and each picture itself."""

from __future__ import annotations

from django.contrib import messages
from django.http import FileResponse, Http404, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods, require_safe

from config.forms.saving import one_save
from config.requests import UserRequest
from recipes.access import instructor_required
from recipes.editing.views import FORM_METHODS
from recipes.models import Revision
from recipes.photos import selectors as selectors
from recipes.photos import services as services
from recipes.photos.forms import PhotoForm, photo_in_words
from recipes.photos.images import MOST_BYTES, TooLarge
from recipes.uploads import at_most

ROUND_THE_FILE = 100_000
KEPT_S = 3600


def _refuse(request: UserRequest, slug: str) -> HttpResponse:
    shown = selectors.recipe_with_photos(request.user, slug)
    trouble = photo_in_words(TooLarge("bytes", MOST_BYTES))
    return _show(request, shown, PhotoForm(), trouble=trouble, status=413)


@instructor_required
@require_http_methods(FORM_METHODS)
@at_most(MOST_BYTES + ROUND_THE_FILE, _refuse)
def photos(request: UserRequest, slug: str) -> HttpResponse:
    """The photos of a recipe. A post adds one, or removes the one that `remove` names."""
    shown = selectors.recipe_with_photos(request.user, slug)
    if request.method != "POST":
        return _show(request, shown, PhotoForm())
    if "remove" in request.POST:
        return _remove(request, slug)
    form = PhotoForm(request.POST, request.FILES)
    if not form.is_valid():
        return _show(request, shown, form)
    picture, alt = form.cleaned_data["picture"], form.cleaned_data["alt"]
    with one_save(request) as save:
        if save.first:
            return redirect(save.first)
        try:
            services.add_photo(recipe=shown.recipe, picture=picture, alt=alt)
        except services.EnoughPhotos:
            form.add_error("picture", f"A recipe has at most {services.MOST_PHOTOS} photos.")
        else:
            messages.success(request, "The photo is added.")
            return save.done("recipes:photos", slug)
    return _show(request, shown, form)


def _remove(request: UserRequest, slug: str) -> HttpResponse:
    wanted = request.POST["remove"]
    if not (wanted.isascii() and wanted.isdigit() and len(wanted) < 19):
        raise Http404
    services.remove_photo(photo=selectors.photo_of(request.user, slug, int(wanted)))
    messages.success(request, "The photo is removed.")
    return redirect("recipes:photos", slug)


def _show(
    request: UserRequest, shown: Revision, form: PhotoForm, *, trouble: str = "", status: int = 200
) -> HttpResponse:
    listed = shown.recipe.photos.all()
    context = {
        "section": "recipes",
        "revision": shown,
        "form": form,
        "photos": listed,
        "trouble": trouble,
        "full": len(listed) >= services.MOST_PHOTOS,
        "most": services.MOST_PHOTOS,
    }
    return render(request, "recipes/photos.html", context, status=status)


@instructor_required
@require_safe
def photo(request: UserRequest, slug: str, pk: int) -> FileResponse:
    """The picture itself. Photos never change, so a browser may keep them for an hour."""
    found = selectors.photo_of(request.user, slug, pk)
    try:
        opened = found.image.open("rb")
    except FileNotFoundError as error:
        raise Http404 from error
    response = FileResponse(opened, content_type="image/jpeg", filename=f"{slug}-{pk}.jpg")
    response.headers["X-Content-Type-Options"] = "nosniff"
    response.headers["Cache-Control"] = f"private, max-age={KEPT_S}"
    return response

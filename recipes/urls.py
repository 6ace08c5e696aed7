from django.urls import path

from recipes.book import views as book
from recipes.editing import adjust_views as adjust
from recipes.editing import views as editing
from recipes.exchange import views as exchange
from recipes.exporting import views as exports
from recipes.ingredients import views as ingredients
from recipes.pans import views as pans
from recipes.photos import views as photos
from recipes.review import views as bring
from recipes.variants import views as variants

app_name = "recipes"
urlpatterns = [
    path("recipes/", book.recipe_list, name="list"),
    path("recipes/new/", editing.new, name="new"),
    path("recipes/bring/", bring.bring, name="bring"),
    path("recipes/<slug:slug>/", book.detail, name="detail"),
    path("recipes/<slug:slug>/edit/", editing.edit, name="edit"),
    path("recipes/<slug:slug>/pans/", pans.pans, name="pans"),
    path("recipes/<slug:slug>/exchange/", exchange.exchange, name="exchange"),
    path("recipes/<slug:slug>/revision/<int:number>/", book.revision, name="revision"),
    path("recipes/<slug:slug>/adjust/", adjust.adjust, name="adjust"),
    path("recipes/<slug:slug>/variants/", variants.variants, name="variants"),
    path(
        "recipes/<slug:slug>/variants/<int:pk>/remove/",
        variants.variant_remove,
        name="variant_remove",
    ),
    path("recipes/<slug:slug>/recipe.json", exports.recipe_json, name="export_json"),
    path("recipes/<slug:slug>/recipe.jsonld", exports.recipe_jsonld, name="export_jsonld"),
    path("recipes/<slug:slug>/recipe.txt", exports.recipe_plain, name="export_text"),
    path("recipes/<slug:slug>/photos/", photos.photos, name="photos"),
    path("recipes/<slug:slug>/photos/<int:pk>/", photos.photo, name="photo"),
    path("ingredients/", ingredients.ingredient_list, name="ingredients"),
    path("ingredients/new/", ingredients.ingredient_new, name="ingredient_new"),
    path("ingredients/<slug:key>/edit/", ingredients.ingredient_edit, name="ingredient_edit"),
]

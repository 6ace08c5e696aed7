from django.urls import path

from recipes.views import book, editing, ingredients, variants

app_name = "recipes"
urlpatterns = [
    path("recipes/", book.recipe_list, name="list"),
    path("recipes/new/", editing.new, name="new"),
    path("recipes/<slug:slug>/", book.detail, name="detail"),
    path("recipes/<slug:slug>/edit/", editing.edit, name="edit"),
    path("recipes/<slug:slug>/revision/<int:number>/", book.revision, name="revision"),
    path("recipes/<slug:slug>/variants/", variants.variants, name="variants"),
    path(
        "recipes/<slug:slug>/variants/<int:pk>/remove/",
        variants.variant_remove,
        name="variant_remove",
    ),
    path("ingredients/", ingredients.ingredient_list, name="ingredients"),
    path("ingredients/new/", ingredients.ingredient_new, name="ingredient_new"),
    path("ingredients/<slug:key>/edit/", ingredients.ingredient_edit, name="ingredient_edit"),
]

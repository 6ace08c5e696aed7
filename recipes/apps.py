from django.apps import AppConfig


class RecipesConfig(AppConfig):
    name = "recipes"
    verbose_name = "Recipe book"

from django.contrib import admin
from django.http import HttpRequest

from recipes.models import Ingredient, Recipe, Revision


@admin.register(Ingredient)
class IngredientAdmin(admin.ModelAdmin[Ingredient]):
    list_display = ("name", "kind", "owner", "density_g_per_ml", "each_g", "storage")
    list_filter = ("kind", "storage")
    search_fields = ("name", "key")
    raw_id_fields = ("owner",)


class RevisionInline(admin.TabularInline[Revision, Recipe]):
    """Revisions, read-only; they are edited in the recipe book, which validates them."""

    model = Revision
    fields = readonly_fields = ("number", "title", "is_current", "in_use", "created_at")
    extra = 0
    can_delete = False

    def has_add_permission(self, request: HttpRequest, obj: Recipe | None = None) -> bool:
        return False


@admin.register(Recipe)
class RecipeAdmin(admin.ModelAdmin[Recipe]):
    list_display = ("slug", "owner", "created_at")
    search_fields = ("slug",)
    raw_id_fields = ("owner",)
    inlines = (RevisionInline,)

from django.forms.renderers import TemplatesSetting
from django.forms.utils import ErrorList


class PlainErrors(ErrorList):
    """Errors under their field, marked by a word-bearing shape."""

    template_name = "forms/errors.html"


class Renderer(TemplatesSetting):
    """Our own field template for every form."""

    field_template_name = "forms/field.html"
    bound_field_class = None

"""The hidden field that makes a form sent twice one form."""

from __future__ import annotations

from typing import Any

from django import template
from django.utils.html import format_html

from config.forms.saving import FORM_KEY, form_key

register = template.Library()


@register.simple_tag(takes_context=True)
def once(context: dict[str, Any]) -> str:
    """The key of this form; it stays when the form is shown again."""
    key = form_key(context["request"])
    return format_html('<input type="hidden" name="{}" value="{}">', FORM_KEY, key)

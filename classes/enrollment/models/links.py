"""The secret in a signed link."""

from __future__ import annotations

import secrets

from django.db import models


def new_link_nonce() -> str:
    """128 random bits; changing them revokes every link given out before."""
    return secrets.token_hex(16)


class Linked(models.Model):
    """A row that a signed link opens, as long as its secret is the one that the link carries."""

    link_nonce = models.CharField(max_length=32, default=new_link_nonce, editable=False)

    class Meta:
        abstract = True

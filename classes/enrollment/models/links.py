"""The secret in a signed link."""

from __future__ import annotations

import secrets


def new_link_nonce() -> str:
    """128 random bits; changing them revokes every link given out before."""
    return secrets.token_hex(16)

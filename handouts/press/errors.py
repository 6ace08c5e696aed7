"""Why a paper could not be rendered."""

from __future__ import annotations


class AddressRefused(Exception):
    """Markup asked for addresses that papers may not fetch."""

    def __init__(self, addresses: list[str]) -> None:
        super().__init__(addresses)
        self.addresses = addresses


class TooLong(Exception):
    """A paper that took too long to lay out."""

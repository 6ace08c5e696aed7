"""Whose address a request comes from."""

from __future__ import annotations

from ipaddress import IPv6Address, ip_address, ip_network

from django.conf import settings
from django.http import HttpRequest

NETWORK_OF_ONE = 64


def client_address(request: HttpRequest) -> str | None:
    """Return the address of the connection itself, or with TRUST_PROXY the one the proxy saw.

    A proxy adds the address to the end of X-Forwarded-For; what comes before it can be made up.
    Of an IPv6 address only the network counts: whoever has one has as many as they like.
    """
    seen = _address(request.META.get("REMOTE_ADDR", ""))
    if settings.TRUST_PROXY and (told := request.headers.get("X-Forwarded-For")):
        return _address(told.rpartition(",")[2].strip()) or seen
    return seen


def _address(text: str) -> str | None:
    try:
        found = ip_address(text)
    except ValueError:
        return None
    if not isinstance(found, IPv6Address):
        return str(found)
    if found.ipv4_mapped:
        return str(found.ipv4_mapped)
    return str(ip_network((int(found), NETWORK_OF_ONE), strict=False).network_address)

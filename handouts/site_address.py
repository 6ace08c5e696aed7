"""Whether the address of the site is one that a paper may carry."""

from __future__ import annotations

from ipaddress import ip_address
from urllib.parse import urlsplit


def printable_site(url: str) -> str:
    """The address without a slash at its end; empty if it only opens on the server itself."""
    try:
        host = urlsplit(url).hostname or ""
    except ValueError:
        return ""
    return "" if _is_loopback(host.rstrip(".")) else url.rstrip("/")


def _is_loopback(host: str) -> bool:
    if not host or host == "localhost" or host.endswith(".localhost"):
        return True
    try:
        address = ip_address(host)
    except ValueError:
        return False
    mapped = getattr(address, "ipv4_mapped", None) or address
    return mapped.is_loopback or mapped.is_unspecified

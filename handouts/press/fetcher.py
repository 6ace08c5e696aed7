"""What markup may fetch while a paper is made: our static files and data: addresses."""

from __future__ import annotations

from pathlib import Path
from urllib.parse import unquote, urlsplit

from django.contrib.staticfiles import finders
from django.core.exceptions import SuspiciousFileOperation
from weasyprint.urls import URLFetcher, URLFetcherResponse

from handouts.press.errors import AddressRefused

# The host cannot exist: the name is reserved for that, so nothing could ever be fetched from it.
BASE_URL = "https://static.invalid/"


class StaticFetcher(URLFetcher):
    """Reads static files from disk and data: addresses; records and refuses the rest.

    WeasyPrint swallows a fetcher's ordinary exceptions and goes on without the picture, so `check`
    must be called before a paper is returned.
    """

    def __init__(self) -> None:
        super().__init__(allowed_protocols={"data"}, allow_redirects=False)
        self.refused: list[str] = []

    def fetch(self, url: str, headers: dict[str, str] | None = None) -> URLFetcherResponse:
        if url.startswith("data:"):
            held: URLFetcherResponse = super().fetch(url, headers)
            return held
        if file := _static_file(url):
            return URLFetcherResponse(url, file.read_bytes())
        self.refused.append(url)
        raise ValueError(f"papers may not fetch {url}")

    def check(self) -> None:
        """Raise AddressRefused if anything was refused."""
        if self.refused:
            raise AddressRefused(self.refused)


def _static_file(url: str) -> Path | None:
    if not url.startswith(BASE_URL):
        return None
    try:
        found = finders.find(unquote(urlsplit(url).path).lstrip("/"))
    except (SuspiciousFileOperation, ValueError):
        return None
    return Path(found) if found and Path(found).is_file() else None

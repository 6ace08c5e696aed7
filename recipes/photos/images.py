"""A photo from an untrusted file: decoded within limits and saved again without metadata.

Formats are JPEG, PNG and WebP; what comes out is a JPEG of at most 1600 px on its longer side.
"""

from __future__ import annotations

import io
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from threading import Lock

from PIL import Image, ImageFile, ImageOps

MOST_BYTES = 8_000_000
# A JPEG is decoded at a fraction of its size; progressive ones and other formats in full.
MOST_PIXELS = 50_000_000
MOST_PIXELS_WHOLE = 25_000_000
LONGEST_SIDE_PX = 1600
LEAST_SIDE_PX = 16
# A progressive JPEG covers the whole picture in every scan; cameras write about ten.
MOST_SCANS = 20
QUALITY = 82
FORMATS = ("JPEG", "PNG", "WEBP")

_ZIP_END = b"PK\x05\x06"
_ZIP_END_WITHIN = 66_000
_FOREIGN = (b"<script", b"<html", b"<!doctype", b"<?php", b"%pdf-", b"<iframe", b"javascript:")
_WHITE = (255, 255, 255)
_strictness = Lock()


class PhotoError(ValueError):
    """A file that is not accepted as a photo."""


class NotAPhoto(PhotoError):
    """Not a JPEG, PNG or WebP, or one that cannot be decoded completely."""


@dataclass
class TooLarge(PhotoError):
    """A file with too many bytes, or a picture with too many pixels or scans: see `counted`."""

    counted: str
    most: int


@dataclass
class TooSmall(PhotoError):
    """A picture with a side shorter than `least_px`."""

    least_px: int


class CarriesMore(PhotoError):
    """A picture whose file is also a page, a program or an archive."""


def rewritten(data: bytes) -> bytes:
    """The picture of a file as a new JPEG, upright and without metadata. Raises PhotoError."""
    if len(data) > MOST_BYTES:
        raise TooLarge("bytes", MOST_BYTES)
    if _carries_more(data):
        raise CarriesMore
    if data.startswith(b"\xff\xd8") and _scans(data) > MOST_SCANS:
        raise TooLarge("scans", MOST_SCANS)
    try:
        with _read_to_the_end():
            return _rewritten(data)
    except PhotoError:
        raise
    except Image.DecompressionBombError as error:
        raise TooLarge("pixels", MOST_PIXELS_WHOLE) from error
    except Exception as error:  # decoders' errors on broken files have no common class
        raise NotAPhoto from error


@contextmanager
def _read_to_the_end() -> Iterator[None]:
    """Make Pillow refuse truncated files, even after the press has allowed them.

    WeasyPrint sets that flag for the whole process when it is imported.
    """
    with _strictness:
        was, ImageFile.LOAD_TRUNCATED_IMAGES = ImageFile.LOAD_TRUNCATED_IMAGES, False
        try:
            yield
        finally:
            ImageFile.LOAD_TRUNCATED_IMAGES = was


def _rewritten(data: bytes) -> bytes:
    with Image.open(io.BytesIO(data), formats=FORMATS) as opened:
        _check_size(opened)
        opened.draft("RGB", (LONGEST_SIDE_PX, LONGEST_SIDE_PX))
        # Palettes and 16-bit grays cannot be resized smoothly as they are.
        plain = opened if opened.mode in ("RGB", "RGBA", "L", "LA", "CMYK") else _converted(opened)
        plain.thumbnail((LONGEST_SIDE_PX, LONGEST_SIDE_PX))
        fresh = _on_white(ImageOps.exif_transpose(plain))
    written = io.BytesIO()
    fresh.save(written, "JPEG", quality=QUALITY, optimize=True, progressive=True)
    return written.getvalue()


def _check_size(image: Image.Image) -> None:
    width, height = image.size
    in_part = image.format != "PNG" and image.format != "WEBP" and "progressive" not in image.info
    most = MOST_PIXELS if in_part else MOST_PIXELS_WHOLE
    if width * height > most:
        raise TooLarge("pixels", most)
    if min(width, height) < LEAST_SIDE_PX:
        raise TooSmall(LEAST_SIDE_PX)


def _converted(image: Image.Image) -> Image.Image:
    if image.mode.startswith("I;16"):
        return image.convert("I").point(lambda level: level / 256).convert("L")
    return image.convert("RGBA" if image.has_transparency_data else "RGB")


def _on_white(image: Image.Image) -> Image.Image:
    """A new RGB picture; only pixels are copied, so nothing else comes along."""
    fresh = Image.new("RGB", image.size, _WHITE)
    if image.has_transparency_data:
        layer = image.convert("RGBA")
        fresh.paste(layer, mask=layer.getchannel("A"))
    else:
        fresh.paste(image.convert("RGB"))
    return fresh


def _carries_more(data: bytes) -> bool:
    lower = data.lower()
    return _ZIP_END in data[-_ZIP_END_WITHIN:] or any(mark in lower for mark in _FOREIGN)


def _scans(data: bytes) -> int:
    """How many scans a JPEG has; segments are skipped, and inside scans `FF` is escaped."""
    at, found = 2, 0
    while 0 <= at < len(data) - 3:
        if data[at] != 0xFF:
            at = data.find(b"\xff", at)
            continue
        marker = data[at + 1]
        if marker == 0xD9:
            break
        if marker == 0xFF:
            at += 1
        elif marker in (0x00, 0x01) or 0xD0 <= marker <= 0xD8:
            at += 2
        else:
            found += marker == 0xDA
            if found > MOST_SCANS:
                break
            at += 2 + max(2, int.from_bytes(data[at + 2 : at + 4], "big"))
    return found

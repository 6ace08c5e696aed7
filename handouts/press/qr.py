"""Addresses as squares that a telephone reads."""

from __future__ import annotations

import segno


def qr_picture(address: str) -> str:
    """A `data:` address of the square, with the quiet border that the standard asks for."""
    square = segno.make_qr(address, error="m")
    return square.svg_data_uri(xmldecl=False, svgns=True, encode_minimal=False)

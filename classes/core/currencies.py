"""How many decimal places each currency has, by ISO 4217.

From the standard's list one as published on 2026-01-01, read in the package iso4217
1.16.20260101 (public domain). Metals, funds without places and codes for tests are left out.
"""

from __future__ import annotations

from dataclasses import dataclass
from types import MappingProxyType

from recipes.core.errors import BakingError

_BY_PLACES = {
    0: "BIF CLP DJF GNF ISK JPY KMF KRW PYG RWF UGX UYI VND VUV XAF XOF XPF",
    2: (
        "AED AFN ALL AMD AOA ARS AUD AWG AZN BAM BBD BDT BMD BND BOB BOV BRL BSD BTN BWP BYN BZD "
        "CAD CDF CHE CHF CHW CNY COP COU CRC CUP CVE CZK DKK DOP DZD EGP ERN ETB EUR FJD FKP GBP "
        "GEL GHS GIP GMD GTQ GYD HKD HNL HTG HUF IDR ILS INR IRR JMD KES KGS KHR KPW KYD KZT LAK "
        "LBP LKR LRD LSL MAD MDL MGA MKD MMK MNT MOP MRU MUR MVR MWK MXN MXV MYR MZN NAD NGN NIO "
        "NOK NPR NZD PAB PEN PGK PHP PKR PLN QAR RON RSD RUB SAR SBD SCR SDG SEK SGD SHP SLE SOS "
        "SRD SSP STN SVC SYP SZL THB TJS TMT TOP TRY TTD TWD TZS UAH USD USN UYU UZS VED VES WST "
        "XAD XCD XCG YER ZAR ZMW ZWG"
    ),
    3: "BHD IQD JOD KWD LYD OMR TND",
    4: "CLF UYW",
}

PLACES = MappingProxyType(
    {code: places for places, codes in _BY_PLACES.items() for code in codes.split()}
)


@dataclass(eq=False)
class UnknownCurrency(BakingError):
    """A code that is no currency with known places."""

    code: str


def places_of(code: str) -> int:
    """The decimal places of a currency by its code. Raises UnknownCurrency."""
    try:
        return PLACES[code]
    except KeyError:
        raise UnknownCurrency(code) from None

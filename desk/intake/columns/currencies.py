"""Currency codes in use (ISO 4217, from babel's copy, 2026), and the signs people write for them."""

from __future__ import annotations

CURRENCIES = frozenset(
    (
        "AED AFN ALL AMD AOA ARS AUD AWG AZN BAM BBD BDT BGN BHD BIF BMD BND BOB BRL BSD BTN BWP BYN BZD CAD CDF CHF "
        "CLP CNY COP CRC CUP CVE CZK DJF DKK DOP DZD EGP ERN ETB EUR FJD FKP GBP GEL GHS GIP GMD GNF GTQ GYD HKD HNL "
        "HTG HUF IDR ILS INR IQD IRR ISK JMD JOD JPY KES KGS KHR KMF KPW KRW KWD KYD KZT LAK LBP LKR LRD LSL LYD MAD "
        "MDL MGA MKD MMK MNT MOP MRU MUR MVR MWK MXN MYR MZN NAD NGN NIO NOK NPR NZD OMR PAB PEN PGK PHP PKR PLN PYG "
        "QAR RON RSD RUB RWF SAR SBD SCR SDG SEK SGD SHP SLE SOS SRD SSP STN SYP SZL THB TJS TMT TND TOP TRY TTD TWD "
        "TZS UAH UGX USD UYU UZS VES VND VUV WST XAF XCD XCG XOF XPF YER ZAR ZMW ZWG"
    ).split()
)
DRAWING_RIGHTS = "XDR"  # buyers never pay in it; the post sets limits in it

# Common practice, no source. A sign that several currencies share fits any of them but decides none.
SIGNS = {
    "$": ("USD", "AUD", "CAD", "NZD", "SGD", "HKD", "TWD", "MXN"),
    "US$": ("USD",),
    "A$": ("AUD",),
    "C$": ("CAD",),
    "CA$": ("CAD",),
    "NZ$": ("NZD",),
    "€": ("EUR",),
    "£": ("GBP",),
    "¥": ("JPY", "CNY"),
    "FR.": ("CHF",),
    "KR": ("SEK", "NOK", "DKK", "ISK"),
    "ZŁ": ("PLN",),
    "₩": ("KRW",),
    "₹": ("INR",),
}

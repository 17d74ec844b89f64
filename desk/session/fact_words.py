"""Facts in words: fees, tax numbers, traits, days and sums that rules give as codes, ISO days or bare decimals."""

from __future__ import annotations

from datetime import date

_MONTHS = (
    "January February March April May June July August September October November December"  # whatever the locale
).split()
FEES = {
    "nonmachinable": "a letter that a machine cannot sort",
    "long-22": "a side over 22 in",
    "long-30": "a side over 30 in",
    "bulky": "more than 2 cubic feet",
    "tube": "a tube or roll",
}
TAX_NUMBERS = {
    "ioss": "IOSS",
    "voec": "VOEC",
    "uk_vat": "UK VAT",
    "au_arn": "Australian ARN",
    "nz_gst": "New Zealand GST",
    "cpf or cnpj": "CPF or CNPJ",
    "kr": "Korean personal customs",
}


def day_in_words(day: date) -> str:
    """`12 July 2026`: in English, whatever the machine's own language."""
    return f"{day.day} {_MONTHS[day.month - 1]} {day.year}"


def sum_in_words(amount: str, currency: str) -> str:
    """`$1.11` for dollars of the United States, `1.11 EUR` for anything else."""
    return f"${amount}" if currency == "USD" else f"{amount} {currency}"


def fees_in_words(codes: str) -> str:
    """`long-22+tube` as `a side over 22 in and a tube or roll`."""
    return " and ".join(FEES.get(code, code) for code in codes.split("+"))


def tax_number_in_words(kind: str) -> str:
    """`uk_vat` as `UK VAT`; a kind nobody knows as it stands."""
    return TAX_NUMBERS.get(kind, kind)

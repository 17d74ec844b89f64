"""Tax numbers of sellers and buyers: shape and, where the rule is published, check digits.

The numbers must be the shop's own; none is ever invented here. Shapes: python-stdnum 2.2 for IOSS, UK VAT, ABN, IRD,
CPF and CNPJ; the Norwegian tax office and Postal Bulletin 22559 for VOEC; the Australian tax office for ARN; a trade
notice (a weak source) for the Korean personal code. The last digit of an IOSS number has no published rule, so it is
not checked.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Protocol, cast

from desk.customs.check_result import Checked, compact
from desk.domain.finding import Code

SOURCES = {
    "ioss": "EU import one-stop shop, form of the number",
    "voec": "Norwegian tax office; Postal Bulletin 22559",
    "uk_vat": "United Kingdom VAT, form of the number",
    "au_arn": "Australian tax office",
    "nz_gst": "New Zealand tax office, form of the number",
    "cpf": "Postal Bulletin 22536; form of the CPF",
    "cnpj": "Postal Bulletin 22536; form of the CNPJ",
    "kr": "trade notice on the personal customs code",
}


class _Number(Protocol):
    def validate(self, number: str) -> str: ...


def check_tax_id(kind: str, text: str) -> Checked:
    """Check one number. Raises KeyError for an unknown kind.

    `why`: `empty`, `shape`, `length`, `member state`, `intermediary` or `check digit`.
    """
    number = compact(text)
    why = _RULES[kind](number) if number else "empty"
    return Checked(not why, _bare(kind, number), Code.TAX_ID_MALFORMED if why else "", why)


def kinds() -> tuple[str, ...]:
    """Return the kinds of number known here."""
    return tuple(_RULES)


def _bare(kind: str, number: str) -> str:
    return number.removeprefix("VOEC") if kind == "voec" else number


def _ioss(number: str) -> str:
    from stdnum.eu.oss import ISO_3166_1_MEMBER_STATES

    if re.fullmatch(r"IN[0-9]*", number):
        return "intermediary"  # identifies the agent who files, never a parcel
    if not re.fullmatch(r"IM[0-9]*", number):
        return "shape"
    if len(number) != 12:
        return "length"
    return "" if number[2:5] in ISO_3166_1_MEMBER_STATES else "member state"


def _voec(number: str) -> str:
    digits = number.removeprefix("VOEC")
    return _digits(digits, 7)


def _uk_vat(number: str) -> str:
    from stdnum.gb import vat

    return _by_library(vat, number)


def _au_arn(number: str) -> str:
    """Check an ARN: 12 digits without a published check, or an 11-digit ABN with one."""
    if len(number) == 12:
        return _digits(number, 12)
    from stdnum.au import abn

    return _by_library(abn, number)


def _nz_gst(number: str) -> str:
    from stdnum.nz import ird

    return _by_library(ird, number)


def _cpf(number: str) -> str:
    from stdnum.br import cpf

    return _by_library(cpf, number)


def _cnpj(number: str) -> str:
    from stdnum.br import cnpj

    return _by_library(cnpj, number)


def _kr(number: str) -> str:
    return _digits(number[1:], 12) if number.startswith("P") else "shape"


def _digits(number: str, count: int) -> str:
    if not re.fullmatch("[0-9]+", number):
        return "shape"
    return "" if len(number) == count else "length"


def _by_library(module: object, number: str) -> str:
    from stdnum.exceptions import InvalidChecksum, InvalidLength, ValidationError

    try:
        cast("_Number", module).validate(number)
    except InvalidLength:
        return "length"
    except InvalidChecksum:
        return "check digit"
    except ValidationError:
        return "shape"
    return ""


_RULES: dict[str, Callable[[str], str]] = {
    "ioss": _ioss,
    "voec": _voec,
    "uk_vat": _uk_vat,
    "au_arn": _au_arn,
    "nz_gst": _nz_gst,
    "cpf": _cpf,
    "cnpj": _cnpj,
    "kr": _kr,
}

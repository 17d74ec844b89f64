"""States in words. Source: Publication 28, Appendix B (two-letter state and possession abbreviations), from memory."""

from __future__ import annotations

_ROWS = """
AL Alabama|AK Alaska|AZ Arizona|AR Arkansas|CA California|CO Colorado|CT Connecticut|DE Delaware
DC District of Columbia|FL Florida|GA Georgia|HI Hawaii|ID Idaho|IL Illinois|IN Indiana|IA Iowa|KS Kansas
KY Kentucky|LA Louisiana|ME Maine|MD Maryland|MA Massachusetts|MI Michigan|MN Minnesota|MS Mississippi
MO Missouri|MT Montana|NE Nebraska|NV Nevada|NH New Hampshire|NJ New Jersey|NM New Mexico|NY New York
NC North Carolina|ND North Dakota|OH Ohio|OK Oklahoma|OR Oregon|PA Pennsylvania|RI Rhode Island
SC South Carolina|SD South Dakota|TN Tennessee|TX Texas|UT Utah|VT Vermont|VA Virginia|WA Washington
WV West Virginia|WI Wisconsin|WY Wyoming|PR Puerto Rico|GU Guam|VI U.S. Virgin Islands|AS American Samoa
MP Northern Mariana Islands|FM Micronesia|MH Marshall Islands|PW Palau
AA Military mail (AA)|AE Military mail (AE)|AP Military mail (AP)
"""
STATE_NAMES = {row[:2]: row[3:] for line in _ROWS.split("\n") for row in line.split("|") if row}


def state_name(code: str) -> str:
    """Return a state's name; anything else as it is written."""
    return STATE_NAMES.get(code, code)

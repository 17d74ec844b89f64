"""Where each state's tile is on the tile map: column and row. Our own arrangement, roughly as on a map."""

from __future__ import annotations

_ROWS = (
    "AK .. .. .. .. .. .. .. .. .. .. ME",
    ".. .. .. .. .. .. WI .. .. .. VT NH",
    ".. WA ID MT ND MN IL MI .. NY MA ..",
    ".. OR NV WY SD IA IN OH PA NJ CT RI",
    ".. CA UT CO NE MO KY WV VA MD DE ..",
    ".. .. AZ NM KS AR TN NC SC DC .. ..",
    ".. .. .. .. OK LA MS AL GA .. .. ..",
    "HI .. .. .. TX .. .. .. FL .. PR VI",
    "GU AS MP .. PW FM MH .. .. AA AE AP",
)
COLUMNS, ROWS = 12, len(_ROWS)
TILES = {
    code: (column, row) for row, line in enumerate(_ROWS) for column, code in enumerate(line.split()) if code.isalpha()
}

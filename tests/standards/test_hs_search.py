"""HS codes found from words: a shop's own range against headings of HS 2022 and customs rulings, and unseen rulings.

`HS 2022: ...` quotes the short text of the heading that names the thing (trade statistics' short texts, ODC-PDDL-1.0);
`NY ...` and `HQ ...` are rulings of United States customs, public record.
"""

from __future__ import annotations

import csv
import time

import pytest

from desk.customs.hs_codes import HsCodes
from tests.conftest import ROOT

GOODS = ROOT / "resources" / "goods"

OWN_RANGE = [
    ("sewn paper notebook with linen cover", "4820", "HS 2022: note books"),
    ("dated weekly diary", "4820", "HS 2022: diaries"),
    ("leather-covered travel journal, blank pages", "4820", "HS 2022: note books, diaries"),
    ("account book, hand bound", "4820", "HS 2022: account books"),
    ("photo album with paper pages", "4820", "HS 2022: albums for collections, of paper"),
    ("memo pads printed with foxes", "4820", "HS 2022: memorandum pads"),
    ("letterpress birthday cards with envelopes", "4909", "HS 2022: printed cards bearing personal greetings"),
    ("set of illustrated postcards", "4909", "HS 2022: printed or illustrated postcards"),
    ("wedding invitations", "4909", "HS 2022: printed cards bearing messages or announcements"),
    ("risograph print of a lighthouse", "4911", "HS 2022: printed pictures"),
    ("giclee reproduction of a watercolor", "4911", "NY N320916: printed pictures"),
    ("numbered offset print, signed by the artist", "4911", "NY B81125: mechanical prints"),
    ("photograph on fine art paper", "4911", "HS 2022: printed pictures and photographs"),
    ("decorative paper stickers with foxes", "4911", "HQ H072717: decorative stickers are printed pictures"),
    ("letterpress bookmark on cotton card", "4911", "HS 2022: printed matter, not elsewhere"),
    ("wall calendar 2027", "4910", "HS 2022: calendars of any kind, printed"),
    ("self-adhesive address labels", "4821", "HS 2022: paper labels of all kinds"),
    ("hand-made envelopes of kraft paper", "4817", "HS 2022: envelopes of paper"),
    ("boxed writing paper and envelopes, stationery set", "4817", "HS 2022: writing compendiums"),
    ("folding gift box of cardboard", "4819", "HS 2022: cartons, boxes of paperboard"),
    ("washi tape rolls", "4811", "NY N352286: paper tape, not chapter 49"),
    ("marbled decorative paper for endpapers", "4811", "HS 2022: paper, surface-decorated or printed"),
    ("hand-made cotton rag paper sheets", "4802", "HS 2022: hand-made paper"),
    ("paper garland", "4823", "HS 2022: articles of paper"),
    ("poetry chapbook", "4901", "HS 2022: printed books"),
    ("comic zine, stapled", "4901", "HS 2022: brochures and similar printed matter"),
    ("coloring book for children", "4903", "HS 2022: drawing or colouring books"),
    ("printed city map", "4905", "HS 2022: maps"),
    ("linocut printed by hand from the artist's own block", "9702", "HS 2022: engravings, prints, original"),
    ("original watercolor painting", "9701", "HS 2022: paintings executed by hand"),
    ("bookbinding cloth", "5901", "HS 2022: textile fabrics for outer covers of books"),
    ("waxed linen thread for bookbinding", "5306", "HS 2022: flax yarn"),
    ("bone folder", "9601", "HS 2022: worked bone and articles of bone"),
    ("bookbinder's awl, steel", "8205", "HS 2022: hand tools"),
    ("cotton embroidery thread", "5204", "HS 2022: cotton sewing thread"),
    ("satin ribbon", "5806", "HS 2022: narrow woven fabrics"),
    ("rubber stamp with wooden handle", "9611", "HS 2022: sealing stamps"),
    ("brass wax seal stamp", "9611", "HS 2022: sealing stamps"),
    ("fountain pen ink", "3215", "HS 2022: writing ink"),
    ("watercolor paint set in pans", "3213", "HS 2022: colours, artists"),
    ("colored pencils", "9609", "HS 2022: pencils, crayons"),
    ("calligraphy pen", "9608", "HS 2022: fountain pens, stylograph pens"),
    ("hard enamel lapel pin", "7117", "NY E84786: enamel pins are imitation jewelry"),
    ("pinback button badge", "7117", "HS 2022: imitation jewellery"),
    ("brass earrings", "7117", "HS 2022: imitation jewellery"),
    ("beaded friendship bracelet", "7117", "HS 2022: imitation jewellery"),
    ("sterling silver ring", "7113", "HS 2022: jewellery of precious metal"),
    ("freshwater pearl necklace", "7116", "HS 2022: articles of natural or cultured pearls"),
    ("steel key ring with charm", "7326", "NY C84962: key rings follow the steel ring"),
    ("canvas tote bag", "4202", "HS 2022: bags of textile materials"),
    ("zippered cotton pouch for pencils", "4202", "HS 2022: similar containers of textile materials"),
    ("leather bookmark", "4205", "HS 2022: articles of leather, not elsewhere"),
    ("leather card wallet", "4202", "HS 2022: wallets"),
    ("silk scarf, hand painted", "6214", "HS 2022: shawls, scarves, not knitted"),
    ("linen tea towel, block printed", "6302", "HS 2022: kitchen linen"),
    ("cotton table napkins", "6302", "HS 2022: table linen"),
    ("linen cushion cover", "6304", "HS 2022: furnishing articles"),
    ("wool blanket", "6301", "HS 2022: blankets"),
    ("embroidered patch", "5810", "NY E89255: embroidery in motifs"),
    ("woven clothing labels", "5807", "HS 2022: labels, badges of textile"),
    ("knitted wool beanie", "6505", "HS 2022: hats, knitted"),
    ("hand-knit wool mittens", "6116", "HS 2022: gloves, mittens, knitted"),
    ("hand-dyed merino sock yarn", "5109", "HS 2022: yarn of wool, for retail sale"),
    ("cross stitch kit", "6308", "HS 2022: sets for making embroidery"),
    ("stoneware coffee mug", "6912", "HS 2022: ceramic tableware, not of porcelain"),
    ("porcelain teacup and saucer", "6911", "HS 2022: tableware of porcelain"),
    ("ceramic bud vase", "6913", "HS 2022: ornamental ceramic articles"),
    ("terracotta plant pot", "6914", "HS 2022: ceramic articles, not elsewhere"),
    ("soy wax candle in a tin", "3406", "HS 2022: candles"),
    ("beeswax taper candles", "3406", "HS 2022: candles, tapers"),
    ("olive oil soap bar", "3401", "HS 2022: soap, in bars"),
    ("bath salts with lavender", "3307", "HS 2022: bath preparations"),
    ("carved wooden spoon", "4419", "HS 2022: tableware and kitchenware of wood"),
    ("walnut cutting board", "4419", "HS 2022: kitchenware of wood"),
    ("turned wooden box with lid", "4420", "HS 2022: caskets and similar articles of wood"),
    ("oak picture frame", "4414", "HS 2022: wooden frames"),
    ("wooden jigsaw puzzle", "9503", "HS 2022: puzzles of all kinds"),
    ("illustrated tarot deck", "9504", "HS 2022: playing cards"),
    ("glass tree ornament for Christmas", "9505", "HS 2022: festive articles"),
    ("blown glass tumbler", "7013", "HS 2022: glassware for table"),
    ("glass beads for jewelry making", "7018", "HS 2022: glass beads"),
    ("brass buckle for a belt", "8308", "HS 2022: buckles of base metal"),
    ("coconut shell buttons", "9606", "HS 2022: buttons"),
    ("willow basket", "4602", "HS 2022: basketwork"),
]


@pytest.fixture(scope="module")
def codes() -> HsCodes:
    return HsCodes.read(GOODS)


def test_four_in_five_products_have_their_heading_among_five_hints(codes):
    assert len(OWN_RANGE) >= 60
    missed = [
        (text, heading)
        for text, heading, _source in OWN_RANGE
        if heading not in {hint.code[:4] for hint in codes.suggest(text, 5)}
    ]
    assert len(missed) <= len(OWN_RANGE) / 5, missed


def test_unseen_rulings_reach_the_required_share(codes):
    """Each fifth of the rulings is searched with a table learned from the other four fifths."""
    rows = list(csv.DictReader((GOODS / "rulings.csv").read_text(encoding="utf-8").splitlines()))
    counts = {"heading": 0, "six": 0, "chapter": 0}
    for part in range(5):
        seen = [(row["hs6"], row["description"]) for at, row in enumerate(rows) if at % 5 != part]
        search = codes.search_with(seen)
        for row in rows[part::5]:
            found = [match.code for match in search.find(row["description"])]
            counts["heading"] += row["hs6"][:4] in {code[:4] for code in found}
            counts["six"] += row["hs6"] in found
            counts["chapter"] += [row["hs6"][:2]] == [code[:2] for code in found[:1]]
    assert counts["heading"] / len(rows) >= 0.45
    assert counts["six"] / len(rows) >= 0.25
    assert counts["chapter"] / len(rows) >= 0.50


@pytest.mark.parametrize(
    "text", ["", "set", "of", "small", "set of small", "zzzz", "blue", "handmade", "\u624b\u5e33", "12"]
)
def test_words_that_do_not_name_a_thing_give_no_hint(codes, text):
    assert codes.suggest(text) == ()


def test_every_hint_says_which_typed_words_led_to_it(codes):
    hints = [(text, hint) for text, _heading, _source in OWN_RANGE for hint in codes.suggest(text)]
    assert len(hints) > len(OWN_RANGE)
    for text, hint in hints:
        assert hint.matched
        assert all(word in text.lower().replace("-", " ") for word in hint.matched)
        assert hint.words
        assert hint.heading


def test_a_query_takes_less_than_twenty_milliseconds(codes):
    codes.suggest("paper")
    started = time.perf_counter()
    for text, _heading, _source in OWN_RANGE:
        codes.suggest(text)
    assert (time.perf_counter() - started) / len(OWN_RANGE) < 0.06  # three times the limit, for a busy machine


def test_every_code_of_the_word_table_belongs_to_the_edition(codes):
    rows = csv.DictReader((GOODS / "everyday.csv").read_text(encoding="utf-8").splitlines())
    listed = {code for row in rows for code in row["codes"].split()}
    assert len(listed) > 2000
    assert listed - codes.descriptions.keys() == set()

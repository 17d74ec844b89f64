from __future__ import annotations

import time

import pytest

from desk.domain.faults import Unreadable
from desk.tables.decoding import EncodingUnsure, decode, without_controls

HEAD = "order;recipient;address1;city;country;item;quantity\n"
WESTERN = (
    "1001;Jürgen Müller;Falzbeinstraße 5;Köln;DE;Heft;1\n"
    "1002;José García;Calle del Niño 3;Málaga;ES;Cuaderno;1\n"
    "1003;Åsa Öberg;Gatan 3;Malmö;SE;Bok;1\n"
)
CENTRAL = (
    "1001;Łukasz Wiśniewski;ul. Długa 3;Łódź;PL;Zeszyt;1\n"
    "1002;Jiří Dvořák;Náměstí 5;Plzeň;CZ;Sešit;1\n"
    "1003;Péter Kőszegi;Fő utca 2;Győr;HU;Füzet;1\n"
)
RUSSIAN = "1001;Иван Петров;ул. Ленина 5;Москва;RU;Тетрадь;1\n1002;Ольга Смирнова;пр. Мира 7;Казань;RU;Тетрадь;1\n"
GREEK = "1001;Γιώργος Παπαδόπουλος;Οδός Ερμού 3;Αθήνα;GR;Τετράδιο;1\n"
TURKISH = "1001;Ayşe Yılmaz;Atatürk Caddesi 5;İstanbul;TR;Defter;1\n1002;Mehmet Şahin;Çiçek Sokağı;Eskişehir;TR;D;1\n"
JAPANESE = "1001;山田太郎;千代田区丸の内;東京;JP;ノート;1\n1002;佐藤花子;北区梅田;大阪;JP;ノート;1\n"
CHINESE = "1001;王小明;朝阳区建国路;北京;CN;笔记本;1\n"
KOREAN = "1001;김철수;강남구 테헤란로;서울;KR;공책;1\n"


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "utf-16-le", "utf-16-be", "utf-32"])
@pytest.mark.parametrize("rows", [WESTERN, CENTRAL, RUSSIAN, JAPANESE])
def test_unicode_is_read_exactly_with_or_without_a_mark(encoding: str, rows: str) -> None:
    text, _ = decode((HEAD * 10 + rows).encode(encoding), "a.csv")
    assert text == HEAD * 10 + rows


@pytest.mark.parametrize(
    ("encoding", "rows"),
    [
        ("cp1252", WESTERN),
        ("cp1250", CENTRAL),
        ("cp1251", RUSSIAN),
        ("cp1253", GREEK),
        ("cp932", JAPANESE),
        ("koi8-r", RUSSIAN),
        ("iso8859-5", RUSSIAN),
        ("cp866", RUSSIAN),
        ("cp852", CENTRAL),
        ("iso8859-2", CENTRAL),
        ("cp850", WESTERN),
        ("mac_roman", WESTERN),
    ],
)
def test_older_encodings_are_read_exactly(encoding: str, rows: str) -> None:
    text, chosen = decode((HEAD + rows).encode(encoding), "a.csv")
    assert text == HEAD + rows
    assert (HEAD + rows).encode(chosen) == (HEAD + rows).encode(encoding)


@pytest.mark.parametrize(
    ("encoding", "rows"),
    [
        ("gb18030", CHINESE),
        ("cp949", KOREAN),
        ("cp1250", "1001;Ureńa;Ulica 3;Kraków;PL;Heft;1\n"),
        ("cp1254", "1001;Ayşe Yılmaz;Sokak 3;Ankara;TR;D;1\n"),
        ("euc_jp", "1001;山田太郎;東京;大阪;JP;Note;1\n"),
    ],
)
def test_an_uncertain_encoding_is_asked_about_with_sample_cells(encoding: str, rows: str) -> None:
    with pytest.raises(EncodingUnsure) as caught:
        decode((HEAD + rows).encode(encoding), "a.csv")
    readings = {name: (HEAD + rows).encode(encoding).decode(name, "replace") for name, _ in caught.value.likely}
    assert HEAD + rows in readings.values()
    assert 'encoding = "' in str(caught.value)
    assert len(caught.value.likely) <= 3


def test_a_few_western_letters_are_read_as_western() -> None:
    assert decode(b"order;recipient\n1;Andr\xe9\n", "a.csv") == ("order;recipient\n1;André\n", "cp1252")


def test_a_chosen_encoding_is_used_as_it_is() -> None:
    assert decode("Zoë".encode("mac_roman"), "a.csv", "mac_roman") == ("Zoë", "mac_roman")


@pytest.mark.parametrize("encoding", ["ascii", "no-such-encoding"])
def test_a_chosen_encoding_that_does_not_fit_gives_a_sentence(encoding: str) -> None:
    with pytest.raises(Unreadable) as caught:
        decode("Zoë".encode(), "a.csv", encoding)
    assert str(caught.value) == f"a.csv: expected text in {encoding}; save the file again as CSV in UTF-8"


def test_control_characters_are_dropped_and_nothing_else() -> None:
    text = "order,item\n1,Note\x00book\x07 \u200f\u00a0\x85\n" + "2,plain\n" * 10
    assert decode(text.encode(), "a.csv")[0] == "order,item\n1,Notebook \u200f\u00a0\n" + "2,plain\n" * 10


def test_a_picture_is_not_a_table() -> None:
    with pytest.raises(Unreadable) as caught:
        decode(bytes(range(256)) * 8, "a.png")
    assert str(caught.value) == ("a.png: expected a table (CSV, TSV, XLSX or ODS), but this is some other kind of file")


def test_a_line_that_is_not_utf8_is_reported_with_its_number() -> None:
    raw = (HEAD + WESTERN).encode() + b"1004;Andr\xe9;x;y;FR;z;1\n"
    with pytest.raises(Unreadable) as caught:
        decode(raw, "a.csv")
    assert str(caught.value) == (
        "a.csv: line 5: expected text in one encoding; most of the file is UTF-8, this line is not"
    )


def test_bytes_that_are_not_western_are_asked_about() -> None:
    with pytest.raises(EncodingUnsure):
        decode(b"a;b\n\x81\x40;c\n", "a.csv")


def test_an_empty_file_is_empty_text() -> None:
    assert decode(b"", "a.csv") == ("", "utf-8")


def test_bytes_that_fit_no_other_encoding_are_from_an_old_mac() -> None:
    text = HEAD + "1;Zoë Ångström;Große Straße;Oslo;NO;x;1\n"
    assert decode(text.encode("mac_roman"), "a.csv") == (text, "mac_roman")


@pytest.mark.parametrize("encoding", ["rot13", "idna", "undefined"])
def test_an_encoding_that_is_not_for_text_gives_a_sentence(encoding: str) -> None:
    with pytest.raises(Unreadable, match=f"expected text in {encoding}"):
        decode(b"a..b\xff" * 80, "a.csv", encoding)


def test_a_word_of_a_megabyte_is_decoded_quickly() -> None:
    """The search for letters beyond ASCII was once quadratic in the longest word; 200,000 letters took minutes."""
    before = time.process_time()
    assert decode(b"order;Andr\xe9\n1;" + b"x" * 1_000_000, "a.csv")[1] == "cp1252"
    assert time.process_time() - before < 2


@pytest.mark.parametrize(
    "sign", [*map(chr, range(9)), "\x0b", "\x0c", "\x0e", "\x1f", "\x7f", "\x80", "\x9f", "\ufeff"]
)
@pytest.mark.parametrize("text", ["Notebook", "Zoë Müller", "n.º 4 · 20 °C\u00a0", "東京 \ud800"])
def test_only_control_characters_are_removed(sign: str, text: str) -> None:
    assert without_controls(f"{sign}{text}{sign}\t\r\n{sign}") == f"{text}\t\r\n"
    assert without_controls(text) == text


def test_a_text_longer_than_one_part_is_joined_unchanged() -> None:
    text = "order;item\n" + "".join(f"{n};Öl für Füller 東京 №\n" for n in range(9000))
    for encoding in ("utf-8", "utf-8-sig", "utf-16", "utf-16-le", "utf-16-be", "utf-32", "gb18030"):
        assert decode(text.encode(encoding), "a.csv", "gb18030" if encoding == "gb18030" else "")[0] == text


@pytest.mark.parametrize("encoding", ["utf-16", "UTF_32"])
def test_a_chosen_wide_encoding_needs_no_byte_order_mark(encoding: str) -> None:
    assert decode("Zoë".encode(f"{encoding}-le"), "a.csv", encoding) == ("Zoë", encoding)
    assert decode("Zoë".encode(encoding), "a.csv", encoding) == ("Zoë", encoding)


def test_a_fault_far_down_is_reported_with_its_line() -> None:
    rows = "1;Zoë\n" * 60_000
    with pytest.raises(Unreadable) as caught:
        decode(rows.encode() + b"2;Ren\xe9\n" + rows.encode(), "a.csv")
    assert [fault.line for fault in caught.value.faults] == [60_001]


@pytest.mark.parametrize(
    ("raw", "document"),
    [
        (b"%PDF-1.4\n1 0 obj", "a PDF"),
        (b"\xef\xbb\xbf <!DOCTYPE html><table>", "a web page"),
        (b"<html><table><tr>", "a web page"),
        (b'<?xml version="1.0"?><orders/>', "an XML file"),
        (b'{"orders": []}', "a JSON file"),
        (b"[{}]", "a JSON file"),
        (b"{\\rtf1 order", "a text document"),
    ],
)
def test_a_document_that_is_not_a_table_is_named(raw: bytes, document: str) -> None:
    with pytest.raises(Unreadable, match=f"but this is {document}; save it as CSV or XLSX"):
        decode(raw, "orders.csv")


@pytest.mark.parametrize("text", ["<b>,order\n1,2\n", "[order],item\n1,x\n", "{order},item\n1,x\n"])
def test_a_header_that_begins_like_a_document_is_read(text: str) -> None:
    assert decode(text.encode(), "orders.csv")[0] == text

"""Normalized words of a text: plurals, spellings, and ignored words."""

import pytest

from desk.customs.hs_words import NOISE, WEAK, heading_words, search_words


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("Notebooks", ["notebook"]),
        ("boxes of berries", ["box", "berry"]),
        ("Dresses", ["dress"]),
        ("glass", ["glass"]),
        ("T-shirt, x-ray", ["tshirt", "xray"]),
        ("Men\u2019s wooden mould", ["men", "wood", "mold"]),
        ("caf\u00e9", ["cafe"]),
        ("set of 3 small items", []),
        ("a b c", []),
    ],
)
def test_words_are_normalized(text, words):
    assert list(search_words(text)) == words


def test_the_typed_word_is_kept_too():
    assert search_words("Wooden Spoons") == {"wood": "wooden", "spoon": "spoons"}


def test_words_a_heading_excludes_do_not_count():
    assert heading_words("Bags (excluding paper sacks), other than silk; woven") == ("bag", "woven")


def test_no_word_is_both_noise_and_weak():
    assert {"set", "of", "small"} <= NOISE
    assert not NOISE & WEAK


@pytest.mark.parametrize(
    ("typed", "plain"),
    [
        ("gas", "gas"),
        ("cups", "cup"),
        ("ties", "tie"),
        ("cherries", "cherry"),
        ("boxes", "box"),
        ("axes", "axe"),
        ("glass", "glass"),
        ("canvas", "canva"),
    ],
)
def test_a_plural_loses_its_ending_and_a_short_word_keeps_it(typed, plain):
    assert list(search_words(typed)) == [plain]


@pytest.mark.parametrize(("text", "words"), [("T-shirt", ["tshirt"]), ("x ray", ["xray"]), ("t square", ["square"])])
def test_words_with_a_hyphenated_letter_keep_that_letter(text, words):
    assert list(search_words(text)) == words


@pytest.mark.parametrize(
    ("typed", "compared"),
    [
        ("ties", "tie"), ("berries", "berry"),  # -ies of words over four letters
        ("axes", "axe"), ("taxes", "tax"),
        ("gas", "gas"), ("cans", "can"),
    ],
)  # fmt: skip
def test_short_words_lose_only_their_plural_ending(typed, compared):
    assert list(search_words(typed)) == [compared]


@pytest.mark.parametrize("left_out", ["(excluding tissue)", "other than tissue"])
def test_goods_a_heading_leaves_out_are_not_its_words(left_out):
    assert heading_words(f"Kraft wrapping {left_out}") == heading_words("Kraft wrapping")

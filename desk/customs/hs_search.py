"""Search HS codes by words: everyday words, headings, subheadings, and past rulings, ranked by how rare a match is.

Each word counts by its rarity among the headings (inverse document frequency). Everyday phrases count fully when all
their words are present, less when only some are. Headings' texts count by BM25. Past rulings raise the codes of goods
with the same words. Measurements and method: resources/handbook/figures.md.
"""

from __future__ import annotations

import math
from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from desk.customs.hs_words import WEAK, heading_words, search_words

HEADING, CHAPTER = 4, 2  # digits
PER_HEADING = 2  # at most this many codes from one heading, so that the list shows different headings

# Weights, chosen on four fifths of the rulings and checked on the rest. Changing one by a fifth moves the result by at
# most 1%.
PARTLY = 0.2  # an everyday phrase with only some of its words present, including its last
PHRASE = 1.2  # an everyday phrase of several words, all present
TEXT = 0.35  # the heading's own text
RULING = 0.3  # a past ruling on goods with that word
OFTEN = 0.1  # headings that rulings often name
SECOND = 0.6  # the second code of one heading
K1, B = 1.2, 0.75  # BM25, the usual values


@dataclass(frozen=True, slots=True)
class HsMatch:
    """A six-digit code that may fit, and the typed words that led to it."""

    code: str
    matched: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class _Phrase:
    words: tuple[str, ...]
    codes: tuple[str, ...]


class HsSearch:
    """An index over the tariff's words. Building takes about half a second, a query about 1 ms."""

    def __init__(
        self,
        texts: Mapping[str, str],
        phrases: Iterable[tuple[Sequence[str], str]],
        rulings: Iterable[tuple[str, str]] = (),
    ) -> None:
        """Index `texts` (code of 4 or 6 digits to description), `phrases` (codes, words), `rulings` (code, words)."""
        self._under: dict[str, list[str]] = defaultdict(list)
        self._words_of: dict[str, frozenset[str]] = {}
        self._headings: dict[str, Counter[str]] = defaultdict(Counter)
        self._by_word: dict[str, list[_Phrase]] = defaultdict(list)
        self._read_texts(texts)
        spread = self._read_phrases(phrases)
        self._rarity = {word: math.log(1 + len(self._headings) / (0.5 + len(where))) for word, where in spread.items()}
        self._rulings: dict[str, list[str]] = defaultdict(list)
        self._often: Counter[str] = Counter()
        for code, words in rulings:
            self._often.update((code, code[:HEADING]))
            for word in search_words(words):
                self._rulings[word].append(code)

    def find(self, text: str, count: int = 5) -> tuple[HsMatch, ...]:
        """Return up to `count` codes, best first; none unless a word that names the thing matches."""
        words = search_words(text)
        if not words:
            return ()
        reasons: dict[str, set[str]] = defaultdict(set)
        headings, codes = self._by_phrases(words, reasons)
        self._by_text(words, headings, reasons)
        real = {heading for heading, why in reasons.items() if why - WEAK or len(why) > 1}
        if not any(why - WEAK for why in reasons.values()):
            return ()
        self._by_rulings(words, headings, codes)
        ranked: list[tuple[float, str]] = []
        for heading in sorted(real, key=lambda one: -headings[one])[: count * 2]:
            best = sorted(self._under[heading], key=lambda code: -self._within(code, words, codes))
            ranked += [(headings[heading] * SECOND**at, code) for at, code in enumerate(best[:PER_HEADING])]
        ranked.sort(key=lambda pair: -pair[0])
        return tuple(
            HsMatch(code, tuple(typed for word, typed in words.items() if word in reasons[code[:HEADING]]))
            for _score, code in ranked[:count]
        )

    def _read_texts(self, texts: Mapping[str, str]) -> None:
        for code, text in texts.items():
            words = heading_words(text)
            self._headings[code[:HEADING]].update(words)
            if len(code) > HEADING:
                self._under[code[:HEADING]].append(code)
                self._words_of[code] = frozenset(words)
        self._size = {heading: words.total() for heading, words in self._headings.items()}
        self._usual_size = sum(self._size.values()) / max(len(self._size), 1)
        self._texts: dict[str, list[str]] = defaultdict(list)
        for heading, counted in self._headings.items():
            for word in counted:
                self._texts[word].append(heading)

    def _read_phrases(self, phrases: Iterable[tuple[Sequence[str], str]]) -> dict[str, set[str]]:
        spread: dict[str, set[str]] = defaultdict(set)
        for word, headings in self._texts.items():
            spread[word].update(headings)
        for codes, text in phrases:
            phrase = _Phrase(tuple(search_words(text)), tuple(code for code in codes if code in self._words_of))
            if not phrase.codes:
                continue
            for word in phrase.words:
                self._by_word[word].append(phrase)
                spread[word].update(code[:HEADING] for code in phrase.codes)
        return spread

    def _by_phrases(
        self, words: Mapping[str, str], reasons: dict[str, set[str]]
    ) -> tuple[dict[str, float], dict[str, float]]:
        """Score headings, counting each typed word once by its best phrase, and codes by their best phrase."""
        best: dict[str, dict[str, float]] = defaultdict(dict)
        codes: dict[str, float] = defaultdict(float)
        for phrase in {id(each): each for word in words for each in self._by_word.get(word, ())}.values():
            there = [word for word in phrase.words if word in words]
            value, share = self._value(phrase, there)
            if not value:
                continue
            alone = 1.0 if len(phrase.codes) == 1 else 0.8
            for code in phrase.codes:
                codes[code] = max(codes[code], value * alone)
            for heading in {code[:HEADING] for code in phrase.codes}:
                reasons[heading].update(there)
                for word in there:
                    best[heading][word] = max(best[heading].get(word, 0.0), share * self._rarity[word])
        return defaultdict(float, {heading: sum(each.values()) for heading, each in best.items()}), codes

    def _value(self, phrase: _Phrase, there: Sequence[str]) -> tuple[float, float]:
        """Return a phrase's score, and the factor on each word's rarity. Its last word names the thing."""
        got, whole = sum(self._rarity[word] for word in there), sum(self._rarity[word] for word in phrase.words)
        if len(there) == len(phrase.words):
            share = PHRASE if len(there) > 1 else 1.0
        else:
            share = PARTLY * (got / whole) ** 2 if phrase.words[-1] in there else 0.0
        return got * share, share

    def _by_text(self, words: Mapping[str, str], headings: dict[str, float], reasons: dict[str, set[str]]) -> None:
        for word in words:
            for heading in self._texts.get(word, ()):
                often = self._headings[heading][word]
                size = K1 * (1 - B + B * self._size[heading] / self._usual_size)
                headings[heading] += TEXT * self._rarity[word] * often * (K1 + 1) / (often + size)
                reasons[heading].add(word)

    def _by_rulings(self, words: Mapping[str, str], headings: dict[str, float], codes: dict[str, float]) -> None:
        """Raise the scores that other words already gave; a ruling alone is no match."""
        for word in words:
            for code in (past := self._rulings.get(word, ())):
                lift = RULING * self._rarity.get(word, 0.0) / math.sqrt(len(past))
                codes[code] += lift
                if code[:HEADING] in headings:
                    headings[code[:HEADING]] += lift
        for heading in headings:
            headings[heading] *= 1 + OFTEN * math.log(1 + self._often[heading])

    def _within(self, code: str, words: Mapping[str, str], codes: Mapping[str, float]) -> float:
        """Score a code among those of its heading."""
        own = sum(self._rarity[word] for word in words if word in self._words_of[code])
        return 0.5 * own + 0.5 * codes.get(code, 0.0) + 0.3 * math.log(1 + self._often[code])

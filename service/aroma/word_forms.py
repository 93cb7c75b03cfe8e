"""A written word brought to the form it is known by, and which misspellings are believed."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator, Sequence

MOST_SLIPS = 2

# A letter with its combining marks; soft hyphens and zero-width characters do not part a word.
_LETTER = "[^\\W\\d_][\u0300-\u036f\u00ad\u200b-\u200d\u2060]*"
WORD = re.compile(f"(?:{_LETTER})+(?:['\u2019\u02bc](?:{_LETTER})+)*")

_LETTERS = str.maketrans({"æ": "ae", "œ": "oe", "ø": "o", "ł": "l", "đ": "d", "ð": "d", "ı": "i"})
_IRREGULAR = {"leaves": "leaf", "loaves": "loaf"}
_ES_PLURALS = ("ches", "shes", "sses", "uses", "xes", "oes")
_OUR = re.compile(r"(av|ol|od|ap|ab|on|um)our")
_ISE = re.compile(r"is(e|ed|ing|ation)$")
_SPELLINGS = {
    "chile": "chilli",
    "chili": "chilli",
    "chilly": "chilli",
    "chily": "chilli",
    "donut": "doughnut",
    "gray": "grey",
    "licorice": "liquorice",
    "omelet": "omelette",
    "whiskey": "whisky",
    "yogurt": "yoghurt",
    "yoghourt": "yoghurt",
}
_SHORTEST_CORRECTED = 5
_SHORTEST_ONE_SLIP = 6
_SHORTEST_TWO_SLIPS = 9
# A word that ends like a verb or an adverb is not a misspelt note that does not.
_INFLECTIONS = ("ing", "ed", "ly", "ion", "ions", "er", "ers", "est", "ist", "ism", "able")


def plain(word: str) -> str:
    """A word in lower case without accents, apostrophes and invisible characters.

    >>> plain("Crème"), plain("Nüsse"), plain("don\u2019t")
    ('creme', 'nusse', 'dont')
    """
    if word.isascii():
        return word.lower().replace("'", "")
    spread = unicodedata.normalize("NFKD", word).casefold().translate(_LETTERS)
    return "".join(letter for letter in unicodedata.normalize("NFKD", spread) if letter.isalpha())


def stem(word: str) -> str:
    """A plain word without its plural ending.

    >>> [stem(word) for word in ("cherries", "peaches", "nuts", "citrus", "leaves")]
    ['cherry', 'peach', 'nut', 'citrus', 'leaf']
    """
    if word in _IRREGULAR:
        return _IRREGULAR[word]
    if len(word) <= 3:
        return word
    if word.endswith("ies") and len(word) > 4:
        return word[:-3] + "y"
    if word.endswith(_ES_PLURALS):
        return word[:-2]
    if word.endswith("s") and not word.endswith(("ss", "us")):
        word = word[:-1]
    return word[:-2] + "y" if word.endswith("ie") and len(word) > 4 else word


def word_key(word: str) -> str:
    """The stem in one spelling: British and American forms of a word share it.

    >>> word_key("caramelized") == word_key("caramelised"), word_key("licorice")
    (True, 'liquorice')
    """
    key = stem(word)
    key = _SPELLINGS.get(key, key)
    if len(key) > 6 and "is" in key:
        key = _ISE.sub(r"iz\1", key)
    if "our" in key:
        key = _OUR.sub(r"\1or", key)
    return key.replace("sulph", "sulf").replace("mould", "mold")


def root_words(word: str) -> Iterator[str]:
    """The words that a plain word may be an adjective or a noun of, likeliest first.

    >>> list(root_words("smoky")), list(root_words("plummy"))
    (['smok', 'smoke'], ['plumm', 'plum', 'plumme'])
    """
    if word.endswith(("iness", "iest", "ier")):
        word = re.sub("(iness|iest|ier)$", "y", word)
        yield word
    for ending in ("like", "ish", "ed", "y"):
        root = word.removesuffix(ending)
        if root != word and len(root) >= 3:
            yield root
            if root[-1] == root[-2]:
                yield root[:-1]
            if ending != "like":
                yield root + "e"


def squeezed(word: str) -> str:
    """A word with doubled letters written once.

    >>> squeezed("vannilla") == squeezed("vanila")
    True
    """
    return re.sub(r"(.)\1", r"\1", word)


def certain(word: str, near: Sequence[tuple[str, float]]) -> list[str]:
    """Those of the known words, each with its slips, that a word surely misspells; in order.

    A slip is a letter left out, added or changed, or two swapped. Believed are: doubled letters
    only; one slip in six letters, or in five where a letter is missing or two are swapped; two
    slips in nine letters. The first letter is taken as right.

    >>> certain("blackbery", [("blackberry", 1)]), certain("grade", [("grape", 1)])
    (['blackberry'], [])
    """
    if len(word) < _SHORTEST_CORRECTED:
        return []
    found = [pair for pair in near if squeezed(pair[0]) == squeezed(word)]
    found = found or [pair for pair in near if _believed(word, *pair)]
    least = min((slips for _, slips in found), default=0)
    return sorted(known for known, slips in found if slips == least)


def _believed(word: str, known: str, slips: float) -> bool:
    if word.endswith(_INFLECTIONS) and word[-2:] != known[-2:]:
        return False
    if slips == 1:
        missing = len(known) == len(word) + 1
        swapped = sorted(known) == sorted(word)
        return len(word) >= _SHORTEST_ONE_SLIP or missing or swapped
    return len(word) >= _SHORTEST_TWO_SLIPS

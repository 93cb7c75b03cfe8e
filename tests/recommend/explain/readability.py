"""Reading grade by Flesch and Kincaid, for the tests.

Source: Kincaid, Fishburne, Rogers and Chissom 1975, Derivation of new readability formulas for
Navy enlisted personnel, Research Branch Report 8-75: grade = 0.39 words per sentence + 11.8
syllables per word - 15.59. Syllables are counted by vowel groups with the usual exceptions.
"""

from __future__ import annotations

import re
import unicodedata

WORD = re.compile(r"[a-z]+(?:['-][a-z]+)*")
VOWELS = re.compile(r"[aeiouy]+")
# Vowels that part in two, which a count of vowel groups would miss.
HIATUS = re.compile(r"ia[^l]|io[^nu]|eo|ua[^lr]|iu|ieti|riet|oes$|being|cao|coa[^stlx]|oly")
# Words of this trade that no rule of thumb gets right.
IRREGULAR = {
    "cacao": 3, "cocoa": 2, "curacao": 3, "sake": 2, "rose": 1, "caramel": 3, "maraschino": 4,
    "marsala": 3, "madeira": 3, "mezcal": 2, "amontillado": 5, "manzanilla": 4, "oloroso": 4,
    "palo": 2, "cortado": 3, "fino": 2, "cachaca": 3, "amaro": 3, "genever": 3, "pisco": 2,
    "shochu": 2, "baijiu": 2, "sotol": 2, "pastis": 2, "absinthe": 2, "vermouth": 2, "java": 2,
    "kernels": 2, "evidence": 3, "people": 2, "something": 2, "sometimes": 2, "vanilla": 3,
    "violet": 3, "dried": 1, "idea": 3, "chocolate": 3, "caraway": 3, "aquavit": 3,
    "grapefruit": 2, "pineapple": 3, "blackberry": 3, "anise": 2, "whiskey": 2, "tawny": 2,
    "cognac": 2, "armagnac": 3, "artichoke": 3, "sarsaparilla": 5, "chamomile": 3, "passion": 2,
    "honeyed": 2, "aged": 1, "rested": 2, "spiced": 1, "clear": 1, "mixed": 1,
    "australian": 3, "creature": 2, "seemingly": 3, "hybrid": 2, "reptilian": 3,
}  # fmt: skip


def words_of(text: str) -> list[str]:
    """Words in lower case without accents."""
    bare = unicodedata.normalize("NFKD", text.lower())
    return WORD.findall("".join(c for c in bare if not unicodedata.combining(c)))


def syllables(word: str) -> int:
    """How many syllables a word has."""
    if "-" in word:
        return sum(syllables(part) for part in word.split("-"))
    if word in IRREGULAR:
        return IRREGULAR[word]
    if word.endswith("s") and word[:-1] in IRREGULAR:
        return IRREGULAR[word[:-1]]
    count = len(VOWELS.findall(word)) + len(HIATUS.findall(word))
    silent = word.endswith("e") and not word.endswith(("le", "ee")) and count > 1
    silent = silent or (word.endswith("es") and not re.search(r"(?:[sxz]|ch|sh|c|g)es$", word))
    silent = silent or (word.endswith("ed") and not re.search(r"[td]ed$", word))
    return max(count - silent, 1)


def grade(text: str) -> float:
    """School grade that a text asks for."""
    sentences = max(len(re.findall(r"[.!?](?:\s|$)", text)), 1)
    words = words_of(text)
    total = sum(syllables(word) for word in words)
    return 0.39 * len(words) / sentences + 11.8 * total / len(words) - 15.59

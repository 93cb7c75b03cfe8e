"""For staff: a paragraph of why, what to watch and how to talk about it. Numbers are allowed."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from service.recommend.explain import phrases
from service.recommend.explain.facts import Fact, FactKind, Facts
from service.recommend.explain.guest import (
    HOT_PEPPER,
    WORTH_SAYING,
    best_pair,
    names_of,
    spoken_echoes,
)
from service.recommend.explain.pairing_facts import A_DRINK
from service.recommend.explain.speech import COFFEE, Speech, listed
from service.recommend.explain.voice import Said, Voice, say

MOST_NOTES: Final = 3
# What would be printed as 0.00 is not worth a sentence.
SEEN: Final = 0.005
# Where a bartender should start to doubt (estimates; the same lines as on the pages).
FIRM, FAIR = 0.65, 0.45
Pair = tuple[str, str]
# Where spelling or wording differs, both are said: a warning must be understood.
WARNING_WORDS: Final = {
    "sulphites": "sulphites (sulfites)",
    "kernels": "fruit kernels",
    "chilli": "hot pepper",
    "colouring": "added dyes",
    "liquorice": "liquorice (licorice)",
    "raw-egg": "raw egg",
    "large-dose": "large amounts",
    "look-alike": "a poisonous look-alike",
}


def staff_of_pairing(
    facts: Facts, pair: Pair, speech: Speech, voice: Voice, guest: Sequence[Said]
) -> tuple[Said, ...]:
    """Why, how sure, what to say first, what to say."""
    sentences = [
        *why_sentences(facts, pair, speech, voice),
        confidence_sentence(facts, pair, voice),
        *warning_sentences(facts, speech, voice),
        saying_sentence(guest, voice),
    ]
    return tuple(one for one in sentences if one is not None)


def staff_of_drink(
    facts: Facts, pairs: Sequence[Pair], speech: Speech, voice: Voice, guest: Sequence[Said]
) -> tuple[Said, ...]:
    """Why, the balance and what to do about it, the bed, what it holds, what to say."""
    best = best_pair(facts, pairs, speech)
    sentences = [
        best and why_echo(facts, best, speech, voice),
        *balance_sentences(facts, voice),
        bed_sentence(facts, voice),
        holding_sentence(facts, voice),
        *warning_sentences(facts, speech, voice),
        saying_sentence(guest, voice),
    ]
    return tuple(one for one in sentences if one is not None)


def why_sentences(facts: Facts, pair: Pair, speech: Speech, voice: Voice) -> list[Said]:
    """One sentence for each part that carries the score, the strongest first."""
    parts = sorted(facts.of(FactKind.PART, *pair), key=lambda f: (-f.value, f.about))
    total = sum(max(part.value, 0.0) for part in parts)
    why = [
        _WHY[part.about[2]](facts, pair, part, speech, voice)
        for part in parts
        if 0.0 < part.value >= WORTH_SAYING * total
    ]
    return [one for one in why if one is not None]


def confidence_sentence(facts: Facts, pair: Pair, voice: Voice) -> Said | None:
    """How far to trust it."""
    fact = facts.one(FactKind.CONFIDENCE, *pair)
    if fact is None:
        return None
    word = "firm" if fact.value >= FIRM else "fair" if fact.value >= FAIR else "thin"
    return say(voice, phrases.STAFF_CONFIDENCE[word], [fact])


def balance_sentences(facts: Facts, voice: Voice) -> list[Said]:
    """The verdict in the guest's glass, what the filter did, and the smallest way out."""
    said = []
    if verdict := facts.one(FactKind.VERDICT, "after"):
        leaning = f": {verdict.words}" if verdict.words else ""
        filtered = facts.one(FactKind.AMOUNT, "kept")
        words = phrases.STAFF_BALANCE if filtered else phrases.STAFF_BALANCE_PLAIN
        said.append(say(voice, words[verdict.about[1]], [verdict, filtered], leaning=leaning))
    before, after = (facts.one(FactKind.TASTE, "bitter", m) for m in ("before", "after"))
    if before and after and round(before.value, 1) != round(after.value, 1):
        values = {"before": f"{before.value:.1f}", "after": f"{after.value:.1f}"}
        said.append(say(voice, phrases.STAFF_BITTER, [before, after], **values))
    if remedy := facts.one(FactKind.REMEDY):
        said.append(say(voice, phrases.STAFF_REMEDY, [remedy], remedy=remedy.words))
    return said


def bed_sentence(facts: Facts, voice: Voice) -> Said | None:
    """How much the bed keeps, and how long it takes."""
    kept = facts.one(FactKind.AMOUNT, "kept")
    drain = facts.one(FactKind.AMOUNT, "drain")
    if kept is None or drain is None:
        return None
    values = {"kept": f"{kept.value:.0f}", "seconds": f"{10 * round(drain.value / 10):.0f}"}
    return say(voice, phrases.STAFF_BED, [kept, drain], **values)


def holding_sentence(facts: Facts, voice: Voice) -> Said | None:
    """Alcohol and caffeine, as facts."""
    alcohol = facts.one(FactKind.AMOUNT, "alcohol", "after")
    caffeine = facts.one(FactKind.AMOUNT, "caffeine", "after")
    if alcohol is None or round(alcohol.value) == 0:
        return None
    if caffeine is None or round(caffeine.value) == 0:
        return say(voice, phrases.STAFF_ALCOHOL, [alcohol], alcohol=f"{alcohol.value:.0f}")
    values = {"alcohol": f"{alcohol.value:.0f}", "caffeine": f"{caffeine.value:.0f}"}
    return say(voice, phrases.STAFF_HOLDS, [alcohol, caffeine], **values)


def warning_sentences(facts: Facts, speech: Speech, voice: Voice) -> list[Said]:
    """Allergens first, then cautions."""
    said = []
    for kind, ways, slot in (
        (FactKind.ALLERGEN, phrases.STAFF_ALLERGEN, "allergens"),
        (FactKind.CAUTION, phrases.STAFF_CAUTION, "cautions"),
    ):
        if found := facts.of(kind):
            codes = listed([warning_words(fact.about[0]) for fact in found])
            bottles = dict.fromkeys(speech.name(b) for fact in found for b in fact.about[1:])
            said.append(say(voice, ways, found, **{slot: codes}, bottles=listed(list(bottles))))
    return said


def warning_words(code: str) -> str:
    """An allergen or caution as both sides of the ocean know it."""
    return WARNING_WORDS.get(code, code.replace("-", " "))


def saying_sentence(guest: Sequence[Said], voice: Voice) -> Said | None:
    """The guest's sentence, to be said as it is."""
    if not guest:
        return None
    said = say(voice, phrases.STAFF_SAY, [], guest=guest[0].text)
    return Said(said.text, guest[0].facts)


def _why_echo(facts: Facts, pair: Pair, part: Fact, speech: Speech, voice: Voice) -> Said | None:
    said = why_echo(facts, pair, speech, voice)
    return said and Said(said.text, (*said.facts, part.id))


def why_echo(facts: Facts, pair: Pair, speech: Speech, voice: Voice) -> Said | None:
    """The shared notes and what they bring."""
    echoes = spoken_echoes(facts, pair, speech)[:MOST_NOTES]
    if not echoes or sum(fact.value for fact in echoes) < SEEN:
        return None
    slots = names_of(pair, speech) | {
        "notes": listed([speech.notes[fact.about[2]] for fact in echoes]),
        "it": "it" if len(echoes) == 1 else "them",
        "amount": f"{sum(fact.value for fact in echoes):.2f}",
    }
    score = facts.one(FactKind.SCORE, *pair)
    if score is None or score.value < sum(fact.value for fact in echoes):
        return say(voice, phrases.STAFF_ECHO_ALONE, echoes, **slots)
    return say(voice, phrases.STAFF_ECHO, [*echoes, score], **slots, score=f"{score.value:.2f}")


def _why_bridge(facts: Facts, pair: Pair, part: Fact, speech: Speech, voice: Voice) -> Said | None:
    fact = facts.one(FactKind.BRIDGE, *pair)
    if fact is None or fact.value < SEEN:
        return None
    third, amount = speech.name(fact.about[2]), f"{fact.value:.2f}"
    return say(voice, phrases.STAFF_BRIDGE, [fact, part], third=third, amount=amount)


def _why_contrast(
    facts: Facts, pair: Pair, part: Fact, speech: Speech, voice: Voice
) -> Said | None:
    for fact in sorted(facts.of(FactKind.CONTRAST, *pair), key=lambda f: -f.value):
        ours, theirs = (speech.families.get(f, "") for f in fact.about[2:4])
        if fact.value >= SEEN and ours and theirs and ours != theirs:
            slots = names_of(pair, speech) | {"ours": ours, "theirs": theirs}
            amount = f"{fact.value:.2f}"
            return say(voice, phrases.STAFF_CONTRAST, [fact, part], **slots, amount=amount)
    return None


def _why_custom(facts: Facts, pair: Pair, part: Fact, speech: Speech, voice: Voice) -> Said | None:
    fact = facts.one(FactKind.CUSTOM, *pair)
    if fact is None or fact.value < SEEN:
        return None
    like_a, like_b = (speech.name(name) for name in fact.about[2:4])
    if fact.words not in ("", A_DRINK):
        like_a, like_b = COFFEE, fact.words.replace(*HOT_PEPPER)
    slots = {"like_a": like_a, "like_b": like_b, "amount": f"{fact.value:.2f}"}
    return say(voice, phrases.STAFF_CUSTOM, [fact, part], **slots)


_WHY: Final = {
    "echo": _why_echo,
    "bridge": _why_bridge,
    "contrast": _why_contrast,
    "custom": _why_custom,
}

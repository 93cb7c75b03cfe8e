"""For the guest: one or two spoken sentences."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from service.recommend.explain import phrases
from service.recommend.explain.facts import Fact, FactKind, Facts
from service.recommend.explain.pairing_facts import A_DRINK
from service.recommend.explain.speech import COFFEE, Speech, heaviness, is_plural, listed
from service.recommend.explain.voice import Said, Voice, say_plainly

# A part below this share of the score is not what carries the pairing (estimate).
WORTH_SAYING: Final = 0.15
# Shared notes that add less than this to the score are too faint to be sent looking for (estimate).
FAINT: Final = 0.1
MOST_NOTES: Final = 2
# A second shared note is named when it is at least this share of the first (estimate).
SECOND_NOTE: Final = 0.25
# Notes and name of a sentence together, in syllables as `heaviness` counts them (estimate: the
# reading grade then stays below 8).
LONGEST_SAID: Final = 10
LONGEST_FOOD_WORDS: Final = 3
# Written differently on the two sides of the ocean, so said otherwise.
HOT_PEPPER: Final = ("chilli", "hot pepper")
SPOKEN_ROLES: Final = frozenset({"base", "modifier", "bitters"})
# Said of nearly every coffee, so it says nothing.
TRITE: Final = frozenset({"roasted-coffee"})
# Levels in words: up to which point (0-15), or % vol, each holds. Estimates.
SWEET: Final = ((1.2, "dry"), (2.8, "a little sweet"), (4.6, "sweet"), (99.0, "very sweet"))
BITTER: Final = (
    (1.6, "hardly bitter"),
    (3.0, "a little bitter"),
    (5.0, "bitter"),
    (99.0, "very bitter"),
)
STRENGTH: Final = ((12.0, "light"), (20.0, "fairly strong"), (100.0, "strong"))
EDGE_POINTS: Final = 0.6


def guest_of_pairing(facts: Facts, pair: tuple[str, str], speech: Speech, voice: Voice) -> tuple[
    Said, ...
]:  # fmt: skip
    """What carries the pairing, strongest first; at most two sentences.

    Where two share next to nothing and nobody is known to have put them together, each is told by
    itself. What a third bottle has to do with it is said only where there is nothing nearer.
    """
    by_weight = sorted(facts.of(FactKind.PART, *pair), key=lambda f: (-f.value, f.about))
    total = sum(max(part.value, 0.0) for part in by_weight)
    said = {
        part.about[2]: _SENTENCES[part.about[2]](facts, pair, speech, voice)
        for part in by_weight
        if part.value >= (FAINT if part.about[2] == "echo" else WORTH_SAYING * total) > 0.0
    }
    nearer = [one for name, one in said.items() if one is not None and name != "bridge"]
    apart = (side_by_side(facts, pair, speech, voice), said.get("bridge"))
    return tuple(nearer or (one for one in apart if one is not None))[:2]


def guest_of_drink(
    facts: Facts, pairs: Sequence[tuple[str, str]], speech: Speech, voice: Voice
) -> tuple[Said, ...]:
    """What it smells of, and how it tastes."""
    aroma = _strongest_echo(facts, pairs, speech, voice) or _own_notes(facts, speech, voice)
    taste = taste_sentence(facts, voice)
    return tuple(one for one in (aroma, taste) if one is not None)


def echo_sentence(facts: Facts, pair: tuple[str, str], speech: Speech, voice: Voice) -> Said | None:
    """The notes that both share."""
    echoes = two_echoes(facts, pair, speech)
    if not echoes:
        return None
    notes = [speech.notes[fact.about[2]] for fact in echoes]
    it = "both" if len(notes) > 1 else "it"
    return say_plainly(
        voice, phrases.ECHO, echoes, **names_of(pair, speech), notes=listed(notes), it=it
    )


def two_echoes(facts: Facts, pair: tuple[str, str], speech: Speech) -> list[Fact]:
    """The strongest shared note, and the next of another family where it is strong enough.

    Long words stand alone, so that the sentence can be said in one breath.
    """
    echoes = spoken_echoes(facts, pair, speech)
    if not echoes:
        return []
    first, *more = echoes
    room = LONGEST_SAID - heaviness(speech.notes[first.about[2]], speech.name(pair[1]))
    loud = [
        fact
        for fact in more
        if fact.value >= SECOND_NOTE * first.value
        and heaviness(speech.notes[fact.about[2]]) <= room
    ]
    family = speech.family_of.get(first.about[2])
    other = [fact for fact in loud if speech.family_of.get(fact.about[2]) != family]
    return [first, *(other or loud)[:1]]


def spoken_echoes(facts: Facts, pair: tuple[str, str], speech: Speech) -> list[Fact]:
    """Shared notes that have a word for the guest, the strongest first, no word twice."""
    found: dict[str, Fact] = {}
    ranked = sorted(facts.of(FactKind.ECHO, *pair), key=lambda f: -f.value)
    for fact in ranked:
        word = speech.notes.get(fact.about[2], "")
        if word and fact.value > 0 and fact.about[2] not in TRITE:
            found.setdefault(word, fact)
    return list(found.values())


def side_by_side(facts: Facts, pair: tuple[str, str], speech: Speech, voice: Voice) -> Said | None:
    """A loud note of each, as loud as can be said in one breath."""
    names = names_of(pair, speech)
    ours, theirs = (loudest_notes(facts, name, speech)[:MOST_NOTES] for name in pair)
    words = {note.id: speech.notes[note.about[1]] for note in (*ours, *theirs)}
    both = [(a, b) for b in theirs for a in ours if words[a.id] != words[b.id]]
    spoken = {(a, b): heaviness(words[a.id], words[b.id], *names.values()) for a, b in both}
    light = [two for two in both if spoken[two] <= LONGEST_SAID + heaviness(COFFEE)]
    if not light:
        return None
    our, their = light[0]
    named = words[their.id] in names["name"]
    return say_plainly(
        voice,
        phrases.SIDE_BY_SIDE_NAMED if named else phrases.SIDE_BY_SIDE,
        [our, their],
        **names,
        ours=words[our.id],
        theirs=words[their.id],
        adds_too="add" if is_plural(names["name"]) else "adds",
    )


def loudest_notes(facts: Facts, name: str, speech: Speech) -> list[Fact]:
    """The notes of one thing that have a word for the guest, the loudest first."""
    return [
        note
        for note in facts.of(FactKind.NOTE, name)
        if speech.notes.get(note.about[1]) and note.about[1] not in TRITE
    ]


def bridge_sentence(
    facts: Facts, pair: tuple[str, str], speech: Speech, voice: Voice
) -> Said | None:
    """The third bottle that is near to both."""
    fact = facts.one(FactKind.BRIDGE, *pair)
    if fact is None:
        return None
    third = speech.name(fact.about[2])
    return say_plainly(voice, phrases.BRIDGE, [fact], **names_of(pair, speech), third=third)


def contrast_sentence(
    facts: Facts, pair: tuple[str, str], speech: Speech, voice: Voice
) -> Said | None:
    """Two kinds of notes set against each other."""
    for fact in sorted(facts.of(FactKind.CONTRAST, *pair), key=lambda f: -f.value):
        ours, theirs = (speech.families.get(f, "") for f in fact.about[2:4])
        if fact.value > 0 and ours and theirs and ours != theirs:
            return say_plainly(
                voice, phrases.CONTRAST, [fact], **names_of(pair, speech), ours=ours, theirs=theirs
            )
    return None


def custom_sentence(
    facts: Facts, pair: tuple[str, str], speech: Speech, voice: Voice
) -> Said | None:
    """What people have long put together: these two, or two that are close to them."""
    for fact in facts.of(FactKind.CUSTOM, *pair):
        like_a, like_b = (speech.name(name) for name in fact.about[2:4])
        names = names_of(pair, speech)
        itself = (like_a, like_b) == (names["first"], names["name"])
        if fact.words == A_DRINK:
            if itself:
                return say_plainly(voice, phrases.CUSTOM, [fact], **names)
            return say_plainly(voice, phrases.CUSTOM_LIKE, [fact], like_a=like_a, like_b=like_b)
        if fact.words and fact.words.count(" ") < LONGEST_FOOD_WORDS:
            ways = phrases.CUSTOM_FOOD if itself else phrases.CUSTOM_LIKE_FOOD
            food = fact.words.replace(*HOT_PEPPER)
            return say_plainly(voice, ways, [fact], **(names if itself else {}), food=food)
    return None


def taste_sentence(facts: Facts, voice: Voice) -> Said | None:
    """How it tastes in the glass; with the coffee's edge where that is noticed."""
    sweet = facts.one(FactKind.TASTE, "sweet", "after")
    bitter = facts.one(FactKind.TASTE, "bitter", "after")
    strength = facts.one(FactKind.AMOUNT, "strength", "after")
    if sweet is None or bitter is None or strength is None:
        return None
    words = {
        "sweet": level(SWEET, sweet.value),
        "bitter": level(BITTER, bitter.value),
        "strength": level(STRENGTH, strength.value),
    }
    was = facts.one(FactKind.TASTE, "bitter", "before")
    if was is not None and bitter.value - was.value >= EDGE_POINTS:
        return say_plainly(voice, phrases.TASTE_WITH_EDGE, [sweet, bitter, was, strength], **words)
    return say_plainly(voice, phrases.TASTE, [sweet, bitter, strength], **words)


def level(levels: Sequence[tuple[float, str]], value: float) -> str:
    """The word for a value.

    >>> level(SWEET, 2.0)
    'a little sweet'
    """
    return next((word for most, word in levels if value <= most), levels[-1][1])


def names_of(pair: tuple[str, str], speech: Speech) -> dict[str, str]:
    first = COFFEE if pair[0].startswith(f"{COFFEE}-") else pair[0]
    return {"first": speech.name(first), "name": speech.name(pair[1])}


def best_pair(
    facts: Facts, pairs: Sequence[tuple[str, str]], speech: Speech
) -> tuple[str, str] | None:
    """The pour that shares most with the coffee, in notes that can be said."""
    shared = {pair: two_echoes(facts, pair, speech) for pair in pairs}
    told = [pair for pair in pairs if shared[pair]]
    return max(told, key=lambda pair: sum(f.value for f in shared[pair]), default=None)


def _strongest_echo(
    facts: Facts, pairs: Sequence[tuple[str, str]], speech: Speech, voice: Voice
) -> Said | None:
    """The pour that shares most with the coffee, and what another pour adds."""
    pair = best_pair(facts, pairs, speech)
    if pair is None:
        return None
    echoes = two_echoes(facts, pair, speech)
    notes = [speech.notes[fact.about[2]] for fact in echoes]
    more = _another_note(facts, pair[1], speech, notes)
    if more is None:
        return echo_sentence(facts, pair, speech, voice)
    other = speech.name(more.about[0])
    return say_plainly(
        voice,
        phrases.ECHO_AND_MORE,
        [*echoes, more],
        **names_of(pair, speech),
        notes=listed(notes),
        other=other,
        adds_too="add" if is_plural(other) else "adds",
        more=speech.notes[more.about[1]],
    )


def _another_note(facts: Facts, told: str, speech: Speech, notes: Sequence[str]) -> Fact | None:
    """The loudest note of the largest other bottle that has not been named."""
    pours = sorted(facts.of(FactKind.POUR), key=lambda f: (-f.value, f.about))
    for pour in pours:
        if pour.about[0] == told or pour.about[1] not in SPOKEN_ROLES:
            continue
        for note in loudest_notes(facts, pour.about[0], speech):
            if speech.notes[note.about[1]] not in notes:
                return note
    return None


def _own_notes(facts: Facts, speech: Speech, voice: Voice) -> Said | None:
    """Without coffee: the loudest notes of the largest pour."""
    pours = sorted(facts.of(FactKind.POUR), key=lambda f: (-f.value, f.about))
    for pour in pours:
        name = pour.about[0]
        if notes := loudest_notes(facts, name, speech)[:MOST_NOTES]:
            words = listed([speech.notes[n.about[1]] for n in notes])
            return say_plainly(voice, phrases.OWN_NOTES, notes, name=speech.name(name), notes=words)
    return None


_SENTENCES: Final = {
    "echo": echo_sentence,
    "bridge": bridge_sentence,
    "contrast": contrast_sentence,
    "custom": custom_sentence,
}

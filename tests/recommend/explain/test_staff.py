"""What staff are told: why, what to watch, what to say; and no promise either."""

from __future__ import annotations

import re

from service.counter.known import Known
from service.recommend.explain import Explanation, FactKind
from tests.recommend.explain.conftest import Told
from tests.recommend.explain.readability import grade, words_of
from tests.recommend.explain.test_guest import TWO_SPELLINGS, VOCABULARY

# A paragraph for adults who read for their work.
HIGHEST_GRADE = 12.0


def paragraph(explanation: Explanation) -> str:
    return " ".join(one.text for one in explanation.staff)


def test_a_paragraph_reads_easily_enough(everything: list[Explanation]) -> None:
    for explanation in everything:
        if explanation.staff:
            assert grade(paragraph(explanation)) <= HIGHEST_GRADE, paragraph(explanation)


def test_every_allergen_of_a_drink_is_to_be_told(
    whole_drinks: list[Explanation], drinks: list[Told]
) -> None:
    for explanation, told in zip(whole_drinks, drinks, strict=True):
        for pour in told.drink.pours:
            for allergen in pour.ingredient.allergens:
                assert allergen in paragraph(explanation)


def test_every_caution_of_a_drink_has_its_fact_in_a_sentence(
    whole_drinks: list[Explanation], drinks: list[Told]
) -> None:
    for explanation, told in zip(whole_drinks, drinks, strict=True):
        cited = {fact for one in explanation.staff for fact in one.facts}
        for pour in told.drink.pours:
            for caution in pour.ingredient.cautions:
                assert f"caution:{caution}" in cited


def test_caffeine_and_alcohol_are_given_as_facts_only(
    whole_drinks: list[Explanation], drinks: list[Told]
) -> None:
    for explanation, told in zip(whole_drinks, drinks, strict=True):
        text = paragraph(explanation)
        assert f"{told.reading.after.ethanol_g.mid:.0f} g of alcohol" in text
        if told.coffee is not None:
            assert f"{told.reading.after.caffeine_mg.mid:.0f} mg of caffeine" in text
            assert "never call it sobering" in text
        assert not re.search(r"energy|wakes|awake|healthy|good for", text)


def test_a_drink_out_of_balance_says_so_with_a_way_out(
    whole_drinks: list[Explanation], drinks: list[Told]
) -> None:
    off = [
        (explanation, told)
        for explanation, told in zip(whole_drinks, drinks, strict=True)
        if str(told.reading.verdict) == "outside"
    ]
    assert off
    for explanation, told in off:
        assert "out of balance" in paragraph(explanation)
        reaching = [remedy for remedy in told.reading.remedies if remedy.reaches]
        if reaching:
            assert reaching[0].words.split(" (")[0] in paragraph(explanation)


def test_the_guests_sentence_is_handed_over_word_by_word(everything: list[Explanation]) -> None:
    for explanation in everything:
        if explanation.guest:
            assert f'"{explanation.guest[0].text}"' in paragraph(explanation)


def test_thin_evidence_is_called_thin(pairings: list[Explanation]) -> None:
    for explanation in pairings:
        confidence = explanation.facts.one(FactKind.CONFIDENCE)
        assert confidence is not None
        word = (
            "firm" if confidence.value >= 0.65 else "fair" if confidence.value >= 0.45 else "thin"
        )
        assert f"is {word}" in paragraph(explanation)


def test_where_spellings_differ_a_warning_has_both(everything: list[Explanation]) -> None:
    both = ("sulphites (sulfites)", "liquorice (licorice)")
    for explanation in everything:
        text = paragraph(explanation).lower()
        for pair in both:
            text = text.replace(pair, "")
        assert not TWO_SPELLINGS.search(text), text


def test_no_bottle_or_drink_is_called_by_a_trade_name(
    everything: list[Explanation], known: Known
) -> None:
    """The names of classic drinks stay in the reference data, but for those that only say what is
    in them."""
    plain = set(VOCABULARY.read_text(encoding="utf-8").split())
    names = {spec.name.lower() for spec in known.catalogue.specs}
    names = {name for name in names if not set(words_of(name)) <= plain}
    assert len(names) > 200
    for explanation in everything:
        text = f" {' '.join(words_of(paragraph(explanation)))} "
        assert not any(f" {name} " in text for name in names)

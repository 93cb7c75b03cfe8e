"""What the counter knows: catalogue, knowledge and band, loaded once and passed in."""

from __future__ import annotations

from dataclasses import dataclass, replace

from service.aroma.words import Vocabulary
from service.bed import DEFAULT, BedPriors
from service.counter.standard import StandardReadings
from service.drink import Larder, band_of_classics, larder_of
from service.ingredients import Catalogue, NameIndex, load_catalogue
from service.kit.collector import collector_off
from service.recommend import Knowledge, build_knowledge
from service.taste import Band


@dataclass(frozen=True, slots=True, eq=False)
class Known:
    """Everything that is read from the dataset before the first question is answered."""

    catalogue: Catalogue
    names: NameIndex
    knowledge: Knowledge
    vocabulary: Vocabulary
    band: Band
    larder: Larder
    priors: BedPriors
    standard: StandardReadings


@collector_off()
def load_known(catalogue: Catalogue | None = None, priors: BedPriors = DEFAULT) -> Known:
    """Read the shipped dataset (or take a catalogue) and build all that follows from it.

    `priors` are what is believed of the coffee bed; a bar that logs trials brings its own.
    """
    catalogue = catalogue or load_catalogue()
    words = ((w.phrase, w.descriptor, w.weight) for w in catalogue.note_words)
    band = band_of_classics(catalogue.ingredients, catalogue.specs)
    larder = larder_of(catalogue.ingredients)
    return Known(
        catalogue=catalogue,
        names=NameIndex.of(catalogue.ingredients.values()),
        knowledge=build_knowledge(catalogue),
        vocabulary=Vocabulary.from_rows(words),
        band=band,
        larder=larder,
        priors=priors,
        standard=StandardReadings(band, larder, priors),
    )


@collector_off()
def known_beside(base: Known, catalogue: Catalogue) -> Known:
    """All that is known of a catalogue that adds ingredients to the one of `base`.

    What is learnt from the dataset's words and specifications stays as it is, since no addition
    can change either. What weighs ingredients against one another (rarity, what is usual) is built
    from all of them, so that nothing depends on the order in which they were added.
    """
    return replace(
        base,
        catalogue=catalogue,
        names=NameIndex.of(catalogue.ingredients.values()),
        knowledge=build_knowledge(catalogue),
        standard=StandardReadings(base.band, base.larder, base.priors),
    )

"""What a bar's trials have taught, and all that is known as far as they change it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from threading import Lock

from service.bar import Trial, Unit, list_trials, read_spec
from service.bed import BedLearning, BedTrial
from service.counter.house_known import House
from service.counter.house_taste import TasteLearnt, taste_in
from service.counter.house_trials import bed_trial_of, learnt
from service.counter.known import Known
from service.counter.standard import StandardReadings
from service.drink import larder_of
from service.drink.lattice import ANY_JIGGER, Lattice
from service.recommend.liking import Liked, PartLiking, learn_liking
from service.taste import shifted_band


@dataclass(frozen=True, slots=True, eq=False)
class Lessons:
    """What was learnt at one bar: its bed, its middle of balance, and what it likes.

    plain : all that is known there, before any trial
    lattice : the amounts that its jiggers measure, where somebody has said so
    trials : those that the bed learns from
    taste : what its answers said; nothing yet where `taste.tastings` is empty
    liking : by ingredient; `liked` says from how many answers
    kept : all that is known, as learnt, by coffee; filled as it is asked for
    """

    plain: Known
    taste: TasteLearnt
    lattice: Lattice = ANY_JIGGER
    trials: tuple[BedTrial, ...] = ()
    liking: Mapping[str, PartLiking] = field(default_factory=dict)
    liked: int = 0
    kept: dict[str, Known] = field(default_factory=dict)
    lock: Lock = field(default_factory=Lock)

    def bed(self, coffee_id: int | None = None) -> BedLearning:
        """The bed of this bar; of one of its coffees, where that is named."""
        return learnt(self.trials, self._coffee(coffee_id))

    def trials_of(self, coffee_id: int | None) -> int:
        """How many measured trials were of one coffee."""
        return sum(trial.coffee == str(coffee_id) for trial in self.trials)

    def known(self, coffee_id: int | None = None) -> Known:
        """All that is known, as this bar has learnt it; the very same object each time."""
        coffee = self._coffee(coffee_id)
        with self.lock:
            found = self.kept.get(coffee)
            if found is None:
                found = self.kept[coffee] = self._known(coffee)
        return found

    def _coffee(self, coffee_id: int | None) -> str:
        """The word for a coffee in the trials; one that was never tried is like the others."""
        tried = {trial.coffee for trial in self.trials}
        return str(coffee_id) if str(coffee_id) in tried else ""

    def _known(self, coffee: str) -> Known:
        band, priors = self.plain.band, self.plain.priors
        if self.taste.tastings:
            band = shifted_band(band, self.taste.house.band_shift)
        if self.trials:
            priors = learnt(self.trials, coffee).priors
        # What is mixed in to put a drink right has this bar's labels too, and goes by its jiggers.
        larder = larder_of(self.plain.catalogue.ingredients, self.lattice)
        return replace(
            self.plain,
            band=band,
            larder=larder,
            priors=priors,
            standard=StandardReadings(band, larder, priors),
        )


def lessons_in(unit: Unit, house: House, base: Known) -> Lessons:
    """From all trials of a bar that count. A bar that has said nothing is the dataset itself."""
    trials = list_trials(unit)
    taste = taste_in(unit, house)
    if not trials:
        unsaid = {"": base} if house.known is base and house.jiggers is ANY_JIGGER else {}
        return Lessons(house.known, taste, house.jiggers, kept=unsaid)
    taught = (bed_trial_of(trial) for trial in trials)
    liked = [trial for trial in trials if trial.liking is not None]
    return Lessons(
        house.known,
        taste,
        house.jiggers,
        trials=tuple(trial for trial in taught if trial is not None),
        liking=_liking(unit, liked),
        liked=len(liked),
    )


def _liking(unit: Unit, liked: Sequence[Trial]) -> Mapping[str, PartLiking]:
    revisions = {(trial.spec_id, trial.revision or 1) for trial in liked}
    parts = {each: dict.fromkeys(_poured(unit, *each), 1.0) for each in sorted(revisions)}
    return learn_liking(
        Liked(
            key=f"{trial.id:09d}",
            taster=trial.taster,
            liking=float(trial.liking or 0),
            parts=parts[trial.spec_id, trial.revision or 1],
        )
        for trial in liked
    )


def _poured(unit: Unit, spec_id: int, revision: int) -> Iterator[str]:
    for pour in read_spec(unit, spec_id, revision).pours:
        yield pour.ingredient

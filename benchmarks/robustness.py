"""Do rankings hold when every uncertain number moves within its range?

python -m benchmarks.robustness
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from service.aroma import build_bridges, build_space, coffee_aroma
from service.ingredients import Catalogue, CoffeeProfile, load_catalogue
from service.ingredients.records import (
    CoffeeEffect,
    Grade,
    Note,
    Occurrence,
    Process,
    Roast,
    Role,
)
from service.kit import Interval
from service.recommend import Knowledge, attested, knowledge_of, of_role, parts_with_all, rank

DRAWS = 200
TOP = 20
# An 80 % interval reaches this many standard deviations to either side.
EIGHTY = 1.2816
# Shares of descriptors have no published range; they are moved by this factor (one standard
# deviation of the logarithm), by grade: our estimate.
SHARE_SPREAD = {
    Grade.MEASURED: 0.15, Grade.DERIVED: 0.2, Grade.RECALLED: 0.3, Grade.ESTIMATE: 0.5,
}  # fmt: skip
ROLES = (Role.BASE, Role.MODIFIER, Role.BITTERS)
COFFEES: dict[str, tuple[CoffeeProfile, dict[str, float]]] = {
    "no notes": (CoffeeProfile(), {}),
    "chocolate, caramel": (
        CoffeeProfile(Roast.MEDIUM_DARK), {"dark-chocolate": 1.0, "caramel": 1.0},
    ),
    "bergamot, jasmine, peach": (
        CoffeeProfile(Roast.LIGHT), {"bergamot": 1.0, "jasmine": 1.0, "peach": 1.0},
    ),
    "strawberry, blueberry": (
        CoffeeProfile(Roast.LIGHT, Process.NATURAL), {"strawberry": 1.0, "blueberry": 1.0},
    ),
    "smoke, tobacco": (CoffeeProfile(Roast.DARK), {"smoke": 1.0, "tobacco": 1.0}),
}  # fmt: skip


def moved(interval: Interval, random: np.random.Generator) -> Interval:
    """A draw from a range: log-normal to either side of the middle, by that side's width."""
    if interval.mid <= 0:
        return interval
    step = float(random.standard_normal())
    end = interval.high if step > 0 else interval.low
    if end <= 0:
        return interval
    return Interval.exactly(interval.mid * (end / interval.mid) ** (abs(step) / EIGHTY))


def drawn(catalogue: Catalogue, random: np.random.Generator) -> Catalogue:
    """The catalogue with every concentration, coffee effect and share of a descriptor drawn."""

    def occurrence(row: Occurrence) -> Occurrence:
        amount = row.concentration_ug_per_l
        return row if amount is None else replace(
            row, concentration_ug_per_l=moved(amount, random)
        )  # fmt: skip

    def effect(row: CoffeeEffect) -> CoffeeEffect:
        return replace(row, factor=moved(row.factor, random))

    def note(row: Note) -> Note:
        factor = np.exp(SHARE_SPREAD[row.grade] * random.standard_normal())
        return replace(row, weight=min(row.weight * float(factor), 1.0))

    return replace(
        catalogue,
        odorant_notes=tuple(note(row) for row in catalogue.odorant_notes),
        ingredient_notes=tuple(note(row) for row in catalogue.ingredient_notes),
        occurrences=tuple(occurrence(row) for row in catalogue.occurrences),
        coffee=tuple(occurrence(row) for row in catalogue.coffee),
        coffee_effects=tuple(effect(row) for row in catalogue.coffee_effects),
    )


def scores(
    knowledge: Knowledge, catalogue: Catalogue
) -> dict[tuple[str, Role], NDArray[np.float64]]:
    """Scores of every ingredient of each role for each coffee."""
    found = {}
    for name, (profile, notes) in COFFEES.items():
        aroma = coffee_aroma(knowledge.space, catalogue, profile, notes)
        all_scores = parts_with_all(knowledge, aroma, knowledge.weights).score
        for role in ROLES:
            rows = [knowledge.space.index[i] for i in of_role(catalogue, role)]
            found[name, role] = all_scores[rows]
    return found


def known_of(catalogue: Catalogue) -> Knowledge:
    space = build_space(catalogue)
    return knowledge_of(catalogue, space, build_bridges(space), attested(catalogue))


def confidences(knowledge: Knowledge, catalogue: Catalogue, name: str, role: Role) -> list[float]:
    """Confidence of the top suggestions, in order of score."""
    profile, notes = COFFEES[name]
    aroma = coffee_aroma(knowledge.space, catalogue, profile, notes)
    best = rank(knowledge, aroma, of_role(catalogue, role), knowledge.weights, TOP)
    return [suggestion.confidence for suggestion in best]


def main(draws: int = DRAWS) -> None:
    from scipy.stats import kendalltau, rankdata, spearmanr

    catalogue = load_catalogue()
    knowledge = known_of(catalogue)
    reference = scores(knowledge, catalogue)
    top = {key: np.argsort(-values, kind="stable")[:TOP] for key, values in reference.items()}
    random = np.random.default_rng(0)
    taus: dict[tuple[str, Role], list[float]] = {key: [] for key in reference}
    ranks: dict[tuple[str, Role], list[NDArray[np.float64]]] = {key: [] for key in reference}
    for _ in range(draws):
        other = drawn(catalogue, random)
        for key, values in scores(known_of(other), other).items():
            taus[key].append(kendalltau(reference[key][top[key]], values[top[key]]).statistic)
            ranks[key].append(rankdata(-values)[top[key]])
    print(f"Kendall tau of the top {TOP}, median of {draws} draws (10 % quantile):\n")
    print("| coffee | base | modifier | bitters |\n|---|---|---|---|")
    for name in COFFEES:
        cells = [f"{np.median(taus[name, r]):.2f} ({np.quantile(taus[name, r], 0.1):.2f})"
                 for r in ROLES]  # fmt: skip
        print(f"| {name} | {' | '.join(cells)} |")
    every = np.concatenate(list(taus.values()))
    print(f"\nAll together: median {np.median(every):.3f}, 10 % quantile "
          f"{np.quantile(every, 0.1):.3f}")  # fmt: skip
    spread = np.concatenate([np.std(ranks[key], axis=0) for key in reference])
    trusted = np.concatenate([confidences(knowledge, catalogue, *key) for key in reference])
    unsteady = spread >= np.quantile(spread, 0.75)
    steady = spread <= np.quantile(spread, 0.25)
    print(
        f"Confidence of the least stable quarter {trusted[unsteady].mean():.3f}, of the most "
        f"stable {trusted[steady].mean():.3f}; Spearman correlation of rank spread and "
        f"confidence {spearmanr(spread, trusted).statistic:.2f}"
    )


if __name__ == "__main__":
    main()

"""Are the descriptors right? A second published opinion on each, and the families found blind.

python -m benchmarks.descriptors
"""

from __future__ import annotations

import csv
from collections import defaultdict
from collections.abc import Mapping

import numpy as np

import pairing_data
from service.aroma import AromaSpace, build_space
from service.ingredients import Catalogue, load_catalogue

# A descriptor counts as ours where it has at least this share of the odorant's loudest.
MAIN_SHARE = 0.5
SEEDS = 10


def second_opinions() -> dict[str, frozenset[str]]:
    """Odorant to the families of what a second source says of it."""
    path = pairing_data.FOLDER / "tables" / "second_opinions.csv"
    with path.open(encoding="utf-8", newline="") as file:
        return {
            row["odorant_id"]: frozenset(row["family_ids"].split(";"))
            for row in csv.DictReader(file)
        }


def our_families(catalogue: Catalogue) -> dict[str, frozenset[str]]:
    """Odorant to the families of its main descriptors."""
    notes: dict[str, list[tuple[str, float]]] = defaultdict(list)
    for note in catalogue.odorant_notes:
        notes[note.subject].append((catalogue.descriptors[note.descriptor].family, note.weight))
    return {
        odorant: frozenset(f for f, w in found if w >= MAIN_SHARE * max(w for _, w in found))
        for odorant, found in notes.items()
    }


def jaccard(a: frozenset[str], b: frozenset[str]) -> float:
    return len(a & b) / len(a | b)


def agreement(
    ours: Mapping[str, frozenset[str]], theirs: Mapping[str, frozenset[str]]
) -> dict[str, float]:
    return {odorant: jaccard(ours[odorant], said) for odorant, said in sorted(theirs.items())}


def note_graph_communities(space: AromaSpace, seed: int) -> list[int]:
    """Descriptors that go together in odorants and bottles (Blondel et al. 2008, J. Stat. Mech.
    P10008), by networkx."""
    import networkx as nx

    together = co_occurrence(space)
    graph = nx.from_numpy_array(together)
    found = nx.community.louvain_communities(graph, weight="weight", resolution=2.0, seed=seed)
    label = np.zeros(len(together), dtype=int)
    for number, members in enumerate(found):
        label[list(members)] = number
    return [int(value) for value in label]


def note_factors(space: AromaSpace, seed: int) -> list[int]:
    """The strongest factor of each descriptor, by non-negative matrix factorisation (Lee and
    Seung 1999, Nature 401:788) in scikit-learn."""
    from sklearn.decomposition import NMF

    model = NMF(len(space.family_ids), init="nndsvda", random_state=seed, max_iter=1500)
    model.fit(np.vstack([space.notes.toarray(), _unit(space.odorant_notes.toarray())]))
    return [int(value) for value in model.components_.argmax(axis=0)]


def co_occurrence(space: AromaSpace) -> np.ndarray:
    """Cosine of two descriptors over odorants and bottles; 0 with itself."""
    both = np.vstack([space.notes.toarray(), _unit(space.odorant_notes.toarray())])
    unit = _unit(both.T)
    table = unit @ unit.T
    np.fill_diagonal(table, 0.0)
    return np.asarray(table)


def _unit(rows: np.ndarray) -> np.ndarray:
    lengths = np.linalg.norm(rows, axis=1, keepdims=True)
    return np.asarray(np.divide(rows, lengths, out=np.zeros_like(rows), where=lengths > 0))


def main() -> None:
    from sklearn.metrics import adjusted_rand_score

    catalogue = load_catalogue()
    ours, theirs = our_families(catalogue), second_opinions()
    found = agreement(ours, theirs)
    values = np.array(list(found.values()))
    random = np.random.default_rng(0)
    means = [random.choice(values, len(values)).mean() for _ in range(2000)]
    low, high = np.quantile(means, [0.025, 0.975])
    strangers = int((values == 0).sum())
    print(
        f"{len(values)} odorants: mean Jaccard by family {values.mean():.3f} "
        f"[{low:.3f}, {high:.3f}]; no family in common: {strangers}\n"
    )
    print("| odorant | ours | second opinion | agreement |\n|---|---|---|---|")
    for odorant, value in sorted(found.items(), key=lambda item: (item[1], item[0])):
        if value < 0.5:
            both = (", ".join(sorted(said[odorant])) for said in (ours, theirs))
            print(f"| {odorant} | {' | '.join(both)} | {value:.2f} |")
    space = build_space(catalogue)
    written = [catalogue.descriptors[d].family for d in space.descriptors]
    for name, method in (("communities", note_graph_communities), ("factors", note_factors)):
        labels = [method(space, seed) for seed in range(SEEDS)]
        rand = [adjusted_rand_score(written, label) for label in labels]
        sizes = [len(set(label)) for label in labels]
        print(
            f"\n{name}: adjusted Rand index {np.mean(rand):.3f} "
            f"({min(rand):.3f} to {max(rand):.3f} over {SEEDS} seeds), "
            f"{min(sizes)} to {max(sizes)} groups, {len(set(written))} families"
        )


if __name__ == "__main__":
    main()

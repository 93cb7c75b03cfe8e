"""How fast the exact search is, against enumerating the same space; and how true its forecast.

python -m benchmarks.compose               time, against enumeration timed on a slice and scaled
python -m benchmarks.compose --calibrate   readings of random drinks by distance from the band
"""

from __future__ import annotations

import argparse
import time
from collections.abc import Iterator
from dataclasses import replace
from typing import Final

import numpy as np

from service.bed import Bed
from service.counter.coffees import Coffee, read_coffee
from service.counter.known import Known, load_known
from service.drink import Drink, Pour, read_many
from service.drink.search import distances_of
from service.ingredients.records import Ingredient, Role
from service.kit.jigger import JiggerStep
from service.recommend.compose import (
    FREE_DOSES_G,
    Bottle,
    Limits,
    Measures,
    Problem,
    Shape,
    compose,
    exhaust,
    inside_probability,
)
from service.recommend.compose.rack import build_rack
from service.recommend.compose.search import bench_for
from service.recommend.compose.space import build_space

WHOLE_SHELF: Final = {Role.BASE: 25, Role.MODIFIER: 70, Role.BITTERS: 30}
COFFEES: Final = (
    "dark chocolate, dried cherry",
    "jasmine, bergamot, peach",
    "hazelnut, caramel",
    "tobacco, cedar",
    "blueberry, winey",
)
RUNS: Final = 5
SLICE_DRINKS: Final = 1_000_000
CALIBRATION_DRINKS: Final = 20_000
PER_STEP: Final = 60


def shelf_of(known: Known, seed: int, sizes: dict[Role, int]) -> tuple[Bottle, ...]:
    """A random shelf of the dataset's bottles with random prices."""
    random = np.random.default_rng(seed)
    bottles = []
    for role, count in sizes.items():
        every = [i for i in known.catalogue.of_role(role)]
        chosen = random.choice(len(every), min(count, len(every)), replace=False)
        bottles += [
            Bottle(every[i], price_per_ml=float(random.uniform(0.02, 0.07))) for i in chosen
        ]
    return tuple(bottles)


def problem_of(known: Known, seed: int, notes: str) -> Problem:
    return Problem(
        knowledge=known.knowledge,
        aroma=read_coffee(known, Coffee(notes=notes)).aroma,
        shelf=shelf_of(known, seed, WHOLE_SHELF),
        band=known.band,
        priors=known.priors,
    )


def variants(problem: Problem, known: Known) -> Iterator[tuple[str, Problem]]:
    """The same shelf, asked in other ways."""
    saline = Bottle(known.catalogue.ingredients["saline"])
    syrups = [b for b in shelf_of(known, 1, {Role.SWEETENER: 4}) if _liquid(b.ingredient)][:3]
    yield "5 mL steps", replace(problem, measures=Measures(step=JiggerStep.FIVE_ML))
    yield "quarter ounces", replace(problem, measures=Measures(step=JiggerStep.QUARTER_OUNCE))
    yield "one modifier", replace(problem, shape=Shape(modifiers=(1, 1)))
    yield "coffee dose free", replace(problem, doses_g=FREE_DOSES_G)
    yield "3 syrups and saline", replace(problem, shelf=(*problem.shelf, *syrups, saline))
    yield (
        "limits",
        replace(problem, limits=Limits(most_abv=0.22, most_caffeine_mg=100.0, most_cost=3.0)),
    )


def _liquid(ingredient: Ingredient) -> bool:
    return ingredient.composition.sugar_g_per_l.mid < 1000.0


def seconds(problem: Problem, runs: int = RUNS) -> tuple[float, float]:
    """Median of the clock and of the processor, for the top 10, warm."""
    compose(problem)
    clock, processor = [], []
    for _ in range(runs):
        started, worked = time.perf_counter(), time.process_time()
        compose(problem)
        clock.append(time.perf_counter() - started)
        processor.append(time.process_time() - worked)
    return float(np.median(clock)), float(np.median(processor))


def enumeration_seconds(problem: Problem) -> float:
    """Vectorised enumeration of the whole space, from a slice of groups in seeded order."""
    space = build_space(problem, build_rack(problem))
    bench = bench_for(problem, space)
    scores = max(bench.block_scores, key=lambda s: s.block.count)
    block = scores.block
    each = len(block.amounts_ml) * len(space.finishes.set_of) * len(space.doses_g)
    at_once = max(16_000 // each, 1)
    groups = np.random.default_rng(0).permutation(block.count)[: max(SLICE_DRINKS // each, 1)]
    exhaust.score_portion(bench, scores, np.sort(groups[:at_once]) + block.first)
    started = time.perf_counter()
    for start in range(0, len(groups), at_once):
        exhaust.score_portion(bench, scores, groups[start : start + at_once] + block.first).max()
    return (time.perf_counter() - started) * space.size / (len(groups) * each)


def measure() -> None:
    """The table of times."""
    known = load_known()
    print("top 10 of 25 bases, 70 modifiers, 30 bitters, two modifiers allowed; warm, medians")
    head = ("asked", "candidates", "clock ms", "cpu ms", "opened", "enumeration s", "times faster")
    print("{:34} {:>11} {:>9} {:>7} {:>7} {:>14} {:>13}".format(*head))
    problems = [(notes, problem_of(known, seed, notes)) for seed, notes in enumerate(COFFEES)]
    problems += list(variants(problems[0][1], known))
    for name, problem in problems:
        clock, processor = seconds(problem)
        certificate = compose(problem).certificate
        enumeration = enumeration_seconds(problem)
        print(
            f"{name:34} {certificate.candidates:11.3g} {1e3 * clock:9.0f} {1e3 * processor:7.0f} "
            f"{certificate.groups_opened:7d} {enumeration:14.3g} {enumeration / clock:13.3g}"
        )


def random_drinks(known: Known, count: int, seed: int = 1) -> list[Drink]:
    """Drinks as a search would meet them: any bottles, lattice amounts."""
    random = np.random.default_rng(seed)
    of_role = {role: known.catalogue.of_role(role) for role in WHOLE_SHELF}
    drinks = []
    for _ in range(count):
        pours = []
        numbers = {Role.BASE: 1, Role.MODIFIER: random.integers(1, 3),
                   Role.BITTERS: random.integers(0, 3)}  # fmt: skip
        for role, number in numbers.items():
            for place in random.choice(len(of_role[role]), number, replace=False):
                ingredient = of_role[role][place]
                pours.append(
                    Pour(ingredient, float(random.choice(Measures().amounts_ml(ingredient))))
                )
        drinks.append(Drink(tuple(pours), bed=Bed()))
    return drinks


def calibrate() -> None:
    """Share of draws inside the band by the usual drink's distance, in steps of 1/4 spread."""
    known = load_known()
    drinks = random_drinks(known, CALIBRATION_DRINKS)
    distance = np.concatenate(
        [
            distances_of(drinks[i : i + 2000], known.band, seed=20)
            for i in range(0, len(drinks), 2000)
        ]
    )
    step = np.rint(4.0 * distance) / 4.0
    print("distance  drinks  inside  spread  in use")
    misses = []
    for at in np.arange(-2.5, 3.25, 0.25):
        here = np.flatnonzero(step == at)[:PER_STEP]
        if not len(here):
            continue
        readings = read_many([drinks[i] for i in here], known.band, draws=400)
        inside = np.array([r.balance_after.inside_probability for r in readings])
        misses.append(inside_probability(distance[here]) - inside)
        print(
            f"{at:8.2f} {len(here):7d} {inside.mean():7.3f} {inside.std():7.3f} "
            f"{inside_probability(np.array([at]))[0]:7.3f}"
        )
    every = np.concatenate(misses)
    print(f"root mean square miss {np.sqrt((every**2).mean()):.3f}, mean {every.mean():+.3f}")


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--calibrate", action="store_true")
    calibrate() if parser.parse_args().calibrate else measure()


if __name__ == "__main__":
    main()

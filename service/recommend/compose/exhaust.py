"""The same question answered by working out every single drink: slow, and a proof by itself.

Used to check the search on small spaces, to measure what the search spares, and by whoever would
rather wait than trust a bound.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

import numpy as np

from service.recommend.compose.diversity import Chosen
from service.recommend.compose.glass import in_glass, worth
from service.recommend.compose.opening import TIE, Bench
from service.recommend.compose.problem import Stop
from service.recommend.compose.rack import Index, Vector
from service.recommend.compose.score import BlockScores, choice_scores
from service.recommend.compose.search import Found, Pick, bodies_of_groups

# So many at once stay in the processor's near memory; more or fewer were slower.
DRINKS_AT_ONCE: Final = 16_000


def every_drink(bench: Bench, limit: int, tell: Callable[[int, int], None], stop: Stop) -> Found:
    """The first `limit` drinks of the answer; `tell` hears how many drinks of all are done."""
    bests: list[tuple[float, Pick]] = []
    finished = True
    for scores in bench.block_scores:
        for groups in _portions(bench, scores):
            if stop():
                finished = False
                break
            found = score_portion(bench, scores, groups)
            bests += _best_picks(bench, groups, found, limit)
            bench.opened.drinks += found.size
            tell(bench.opened.drinks, bench.space.size)
    return Found(_in_order(bench, bests, limit), -np.inf, finished)


def score_portion(bench: Bench, scores: BlockScores, groups: Index) -> Vector:
    """What every drink of some groups is worth; (groups, bodies, options, doses)."""
    space = bench.space
    block, finishes = scores.block, space.finishes
    rows = block.rows(groups)
    held = np.zeros((len(space.rack.contents), len(groups), len(block.amounts_ml)))
    for part, amounts in zip(rows.T, block.amounts_ml.T, strict=True):
        held += space.rack.contents[:, part][:, :, None] * amounts
    bodies = held.reshape(len(held), -1)
    each = (len(finishes.set_of), len(space.doses_g))
    by_body = np.empty((bodies.shape[1], *each))
    step = max(DRINKS_AT_ONCE // by_body[0].size, 1)
    for start in range(0, len(by_body), step):
        by_body[start : start + step] = _worth(bench, bodies[:, start : start + step])
    amount: Vector = by_body.reshape(*held.shape[1:], *each)
    in_stock = (block.amounts_ml <= space.rack.most_ml[rows][:, None, :] + TIE).all(axis=2)
    amount[~in_stock] = -np.inf
    of_choices = choice_scores(space.rack, finishes, *scores.of(groups))
    amount += of_choices[:, finishes.choice_of][:, None, :, None]
    return amount


def _worth(bench: Bench, bodies: Vector) -> Vector:
    """What bodies are worth with every option and dose; (bodies, options, doses)."""
    problem, doses = bench.problem, bench.space.doses_g
    contents = bodies[:, :, None] + bench.space.finishes.contents[:, None, :]
    contents = np.repeat(contents.reshape(len(bodies), -1), len(doses), axis=1)
    dose_g = np.tile(doses, contents.shape[1] // len(doses))
    glass = in_glass(bench.forecast, problem.band, contents, dose_g)
    found = worth(glass, problem.limits, problem.weights)
    return found.reshape(bodies.shape[1], -1, len(doses))


def _portions(bench: Bench, scores: BlockScores) -> list[Index]:
    block, space = scores.block, bench.space
    each = len(block.amounts_ml) * len(space.finishes.set_of) * len(space.doses_g)
    groups = np.arange(block.first, block.first + block.count)
    portions = max(len(groups) * each // (10 * DRINKS_AT_ONCE), 1)
    return np.array_split(groups, min(portions, len(groups)))


def _best_picks(
    bench: Bench, groups: Index, scores: Vector, limit: int
) -> list[tuple[float, Pick]]:
    """The best drink of each group; of its best sets where groups may repeat."""
    set_of = bench.space.finishes.set_of
    found = []
    for group, table in zip(groups.tolist(), scores, strict=True):
        if not bench.problem.variety.repeat_pairs:
            found += _best(group, table, set_of, np.arange(len(set_of)))
            continue
        each = [_best(group, table, set_of, np.flatnonzero(set_of == s))
                for s in range(bench.space.finishes.sets)]  # fmt: skip
        several = sorted((p for best in each for p in best), key=lambda p: (-p[0], p[1]))
        found += several[:limit]
    return found


def _best(group: int, table: Vector, set_of: Index, options: Index) -> list[tuple[float, Pick]]:
    part = table[:, options]
    most = part.max()
    if most == -np.inf:
        return []
    places = np.argwhere(part >= most - TIE).tolist()
    picks = [(float(part[b, o, d]),
              Pick(group, int(set_of[options[o]]), b, int(options[o]), d))
             for b, o, d in places]  # fmt: skip
    return [min(picks, key=lambda each: each[1])]


def _in_order(
    bench: Bench, bests: list[tuple[float, Pick]], limit: int
) -> tuple[tuple[float, Pick], ...]:
    """The rule of variety, drink after drink."""
    bodies = bodies_of_groups(bench)
    chosen = Chosen(bench.problem.variety)
    answer: list[tuple[float, Pick]] = []
    while bests and len(answer) < limit:
        most = max(score for score, _ in bests)
        best = min((b for b in bests if b[0] >= most - TIE), key=lambda b: b[1])
        answer.append(best)
        base, *modifiers = dict.fromkeys(bodies[:, best[1].group].tolist())
        chosen.add(base, tuple(modifiers))
        bests = [b for b in bests if b is not best and _allowed(chosen, bodies, b[1])]
    return tuple(answer)


def _allowed(chosen: Chosen, bodies: Index, pick: Pick) -> bool:
    base, *modifiers = dict.fromkeys(bodies[:, pick.group].tolist())
    return chosen.allows(base, tuple(modifiers))

"""What a composed drink is scored by: one frozen record, printed with every answer."""

from __future__ import annotations

from dataclasses import asdict, dataclass

from service.kit import OutOfRange

MOST_WEIGHT = 100.0


@dataclass(frozen=True, slots=True)
class ComposeWeights:
    """Weight of each part of the score, and how loudly each role speaks. Our estimates.

    coffee: mean affinity of the coffee with the parts; together: mean affinity of the parts among
    themselves; liking: mean of what the house has liked (-1 to 1); novelty: unlike what the house
    pours already (0 to 1); balance: probability inside the band after the bed (0 to 1); price:
    taken off for each unit of money that a serve costs.

    In the means a base counts `base`, the modifiers `modifiers` between them, each bitters
    `bitters` and a sweetener `sweetener`; saline has no aroma and counts nothing.
    """

    coffee: float = 1.0
    together: float = 1.5
    liking: float = 0.5
    novelty: float = 0.1
    balance: float = 1.0
    price: float = 0.02
    base: float = 1.0
    modifiers: float = 1.0
    bitters: float = 0.35
    sweetener: float = 0.35

    def __post_init__(self) -> None:
        for name, weight in asdict(self).items():
            if not 0.0 <= weight <= MOST_WEIGHT:
                raise OutOfRange.of(name, weight, 0.0, MOST_WEIGHT, "(a weight)")
        if self.base == 0.0:
            raise OutOfRange("a base must count for something; give it 1", field="base")

    def as_json(self) -> dict[str, float]:
        return asdict(self)

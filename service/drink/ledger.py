"""Where everything goes: what is poured, melted and given equals glass, bed and paper together."""

from __future__ import annotations

from dataclasses import dataclass
from functools import reduce

import numpy as np

from service.bed import DEFAULT, BedPriors, Percolation, percolate
from service.drink.parts import Drink
from service.drink.passage import chill, usual_of
from service.drink.sampling import DEFAULT_SEED, as_liquid, drink_masses
from service.liquid import Liquid, abv, density_kg_per_m3, viscosity_mpa_s, volume_ml


@dataclass(frozen=True, slots=True, eq=False)
class Ledger:
    """Masses of one drink with coffee, one entry per draw, the usual first.

    `coffee` holds all that could dissolve of the dry coffee; the bitterness booked there is what
    reaches the glass, because nobody knows how bitter the undissolved part is.
    """

    poured: Liquid
    ice: Liquid
    paper_water: Liquid
    coffee: Liquid
    glass: Liquid
    bed: Liquid
    paper: Liquid

    @property
    def brought(self) -> Liquid:
        """Everything that goes in."""
        return reduce(Liquid.__add__, (self.poured, self.ice, self.paper_water, self.coffee))

    @property
    def found(self) -> Liquid:
        """Everything that comes out."""
        return reduce(Liquid.__add__, (self.glass, self.bed, self.paper))


def ledger(
    drink: Drink, *, draws: int = 0, seed: int = DEFAULT_SEED, priors: BedPriors = DEFAULT
) -> Ledger:
    """The books of one drink; without coffee, bed and paper stay empty."""
    poured = as_liquid(drink_masses([drink], draws, seed))
    stirred = chill(poured, [drink.preparation], draws=draws, seed=seed)
    ice = Liquid(water_g=stirred.liquid.water_g - poured.water_g)
    if drink.bed is None:
        nothing = Liquid(water_g=np.zeros_like(ice.water_g))
        return Ledger(poured, ice, nothing, nothing, stirred.liquid, nothing, nothing)
    usual = usual_of(stirred.liquid)
    cold = stirred.celsius[:, 0]
    percolation = percolate(
        drink.bed,
        volume_ml=np.asarray(volume_ml(usual)),
        density_kg_per_m3=np.asarray(density_kg_per_m3(usual, cold)),
        viscosity_mpa_s=np.asarray(viscosity_mpa_s(usual, cold)),
        abv=np.asarray(abv(usual)),
        celsius=cold,
        priors=priors,
        draws=max(draws, 1),
        seed=seed,
    )
    return _booked(poured, ice, stirred.liquid, percolation, draws)


def _booked(
    poured: Liquid, ice: Liquid, stirred: Liquid, percolation: Percolation, draws: int
) -> Ledger:
    def amount(name: str) -> np.ndarray[tuple[int, ...], np.dtype[np.float64]]:
        usual = np.asarray(getattr(percolation.central, name))[:, None]
        return np.concatenate([usual, getattr(percolation, name)[:, :draws]], axis=-1)

    volume = amount("volume_ml")
    in_bed, in_paper = amount("bed_ml") / volume, amount("paper_ml") / volume
    bitter = Liquid(water_g=0.0, qhe_mg=amount("qhe_mg"))
    paper_water = Liquid(water_g=amount("paper_water_ml"))

    def coffee(where: str) -> Liquid:
        return Liquid(
            water_g=0.0,
            caffeine_mg=amount(f"caffeine{where}_mg"),
            coffee_solids_g=amount(f"solids{where}_g"),
        )

    return Ledger(
        poured=poured,
        ice=ice,
        paper_water=paper_water,
        coffee=coffee("_total") + bitter,
        glass=stirred.scaled(1.0 - in_bed - in_paper) + paper_water + coffee("") + bitter,
        bed=stirred.scaled(in_bed) + coffee("_bed"),
        paper=stirred.scaled(in_paper) + coffee("_paper"),
    )

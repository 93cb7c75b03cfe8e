"""What is in a bottle and what it smells of: records and the catalogue read from the dataset."""

from service.ingredients.catalogue import Catalogue, load_catalogue
from service.ingredients.coffee import PROFILES, CoffeeProfile, profile_of
from service.ingredients.names import NameIndex, near_names, plain

__all__ = [
    "PROFILES",
    "Catalogue",
    "CoffeeProfile",
    "NameIndex",
    "load_catalogue",
    "near_names",
    "plain",
    "profile_of",
]

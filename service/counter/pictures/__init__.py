"""Pictures: Vega-Lite specifications from readings, each with its text, drawn on the server."""

from service.counter.pictures.balance_plane import balance_plane
from service.counter.pictures.coverage import coverage_picture
from service.counter.pictures.curves import contact_picture, stirring_picture
from service.counter.pictures.drawing import svg_of
from service.counter.pictures.learning import learning_picture
from service.counter.pictures.neighbourhood import neighbourhood_picture
from service.counter.pictures.note_bars import shared_notes_picture
from service.counter.pictures.picture import Picture
from service.counter.pictures.swings import swings_picture

__all__ = [
    "Picture",
    "balance_plane",
    "contact_picture",
    "coverage_picture",
    "learning_picture",
    "neighbourhood_picture",
    "shared_notes_picture",
    "stirring_picture",
    "svg_of",
    "swings_picture",
]

"""Loading own ingredients from a CSV file: which one each row is, and what it changes of it."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from functools import lru_cache
from typing import Any, BinaryIO, Final

from service.bar.keeping import values_of
from service.bar.loading import (
    Decide,
    FileImport,
    GoodRow,
    Outcome,
    check_seen,
    ids_by_name,
    load_rows,
    whole,
    write_rows,
)
from service.bar.own_csv import column_of, own_draft_of, own_rows
from service.bar.own_ingredients import (
    MOST_OWN,
    NAMES_TURN,
    PREFIX,
    OwnIngredient,
    OwnIngredientDraft,
    as_kept,
    check_own_ingredient,
    free_id,
    list_own_ingredients,
)
from service.bar.spreadsheets import Row
from service.bar.tables import own_ingredients
from service.bar.unit import Unit, take_turn
from service.ingredients import Catalogue, near_names, plain
from service.kit import BadData, NotFound, ServiceError

_ID: Final = re.compile(rf"{PREFIX}[a-z0-9-]{{1,190}}")


def load_own_ingredients(
    unit: Unit, catalogue: Catalogue, file: BinaryIO, *, write: bool
) -> FileImport:
    """Load a file, or only see what loading it would do (`write` False).

    `catalogue` is the shipped dataset, whose names no row may take.
    """
    if write:
        take_turn(unit, NAMES_TURN)
    reader = _Reader(unit, catalogue)

    def deciding(_rows: Sequence[Row]) -> Decide:
        return reader.decide

    def written(rows: Sequence[GoodRow]) -> None:
        write_rows(unit, own_ingredients, rows)

    return load_rows(own_rows(file), deciding, written if write else None, one="own ingredient")


class _Reader:
    """Decides row after row, and remembers what the file has said so far."""

    def __init__(self, unit: Unit, catalogue: Catalogue) -> None:
        every = list_own_ingredients(unit)
        self.catalogue = catalogue
        self.ingredient_id = ids_by_name(catalogue, "like")
        self.note_id = _notes_by_name(catalogue)
        self.kept: dict[str, OwnIngredient | None] = {each.id: each for each in every}
        self.id_of = {plain(each.name): each.id for each in every}
        self.line_of: dict[str, int] = {}

    def decide(self, row: Row) -> GoodRow:
        """What becomes of a row; BadData, NotFound or OutOfRange with its column."""
        draft, given = self._draft(row), _own_id(row)
        name = plain(draft.name)
        for key, column, said in ((name, "name", draft.name), (given, "id", given)):
            if key and key in self.line_of:
                raise BadData(f"{said!r} stands on line {self.line_of[key]} already", field=column)
        twin = self.id_of.get(name)
        own_id = given if given in self.kept else twin
        if own_id is not None and twin not in {None, own_id}:
            raise BadData(f"{draft.name!r} is what {twin} is called already", field="name")
        values = values_of(OwnIngredientDraft, draft)
        seen = None if own_id is None else self.kept[own_id]
        if own_id is None or seen is None:
            good = self._new(row, given, draft.name, values)
        else:
            good = _known(row, given, seen, values)
        self._remember(row.line, str(good.key), name)
        return good

    def _draft(self, row: Row) -> OwnIngredientDraft:
        try:
            draft = own_draft_of(
                row, self.ingredient_id, self.note_id, lambda i: self.catalogue.ingredients[i].role
            )
            return check_own_ingredient(draft, self.catalogue)
        except ServiceError as error:
            raise BadData(error.message, field=column_of(error)) from None

    def _new(self, row: Row, given: str, name: str, values: dict[str, Any]) -> GoodRow:
        if len(self.kept) >= MOST_OWN:
            raise BadData(
                f"a bar can keep {MOST_OWN} own ingredients; take some away first", field="name"
            )
        own_id = given or free_id(name, self.kept)
        return GoodRow.added(row, own_id, whole(row, "version") or 1 if given else 1, values)

    def _remember(self, line: int, own_id: str, name: str) -> None:
        self.id_of = {n: i for n, i in self.id_of.items() if i != own_id} | {name: own_id}
        self.kept.setdefault(own_id, None)
        self.line_of[name] = self.line_of[own_id] = line


def _known(row: Row, given: str, seen: OwnIngredient, values: dict[str, Any]) -> GoodRow:
    good = GoodRow.beside(
        row, seen.id, seen.version, values_of(OwnIngredientDraft, as_kept(seen)), values
    )
    if good.outcome is Outcome.CHANGED:
        if given != seen.id:
            said = ", ".join(name.replace("_", " ") for name in good.changes)
            raise BadData(
                f"there is an own ingredient {seen.name!r} already, with other words ({said}); "
                "export the own ingredients and change it there, or take another name",
                field="name",
            )
        check_seen(row, repr(seen.name), seen.version, "the own ingredients")
    return good


def _own_id(row: Row) -> str:
    text = row.cells.get("id", "")
    if text and not _ID.fullmatch(text):
        raise BadData(
            f"{text!r} is no id that the program gave ({PREFIX}...); empty the cell", field="id"
        )
    return text


def _notes_by_name(catalogue: Catalogue) -> Callable[[str, str], str]:
    """Notes by id or name; a word that is none is told the nearest ones."""
    known = {plain(d.name): d.id for d in catalogue.descriptors.values()}
    known |= {plain(d.id): d.id for d in catalogue.descriptors.values()}
    stands_for: dict[str, list[str]] = {}
    for word in catalogue.note_words:
        if word.descriptor:
            stands_for.setdefault(plain(word.phrase), []).append(word.descriptor)

    @lru_cache(maxsize=4_096)
    def nearest(wanted: str) -> str:
        ids = stands_for.get(wanted, [])
        if not ids:
            ids = [known[name] for name in near_names(known, wanted)]
            ids += [i for phrase in near_names(stands_for, wanted) for i in stands_for[phrase]]
        names = [catalogue.descriptors[i].name for i in dict.fromkeys(ids)][:3]
        return f"nearest: {', '.join(names)}" if names else "look it up in the list of notes"

    def found(text: str, column: str) -> str:
        wanted = plain(text)
        if wanted not in known:
            shown = text if len(text) <= 60 else f"{text[:60]}..."
            raise NotFound(f"{shown!r} is no note known here; {nearest(wanted)}", field=column)
        return known[wanted]

    return found

"""The second opinions: enough of them, read, independent of ours, and sorted by one rule.

The words are those of Acree and Arn 2004, Flavornet and human odor space, read.
"""

from __future__ import annotations

import csv

from pairing_data import table_path

Row = dict[str, str]


def rows(table: str) -> list[Row]:
    with table_path(table).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


SECOND = rows("second_opinions")
SOURCES = {row["source_id"]: row for row in rows("sources")}
FAMILIES = {row["family_id"] for row in rows("families")}
# Families of the words that stand alone somewhere.
ALONE = {
    row["words"]: set(row["family_ids"].split(";")) for row in SECOND if "," not in row["words"]
}


def words(row: Row) -> list[str]:
    return row["words"].split(", ")


def test_at_least_100_odorants_have_a_second_opinion_that_was_read() -> None:
    read = [
        row
        for row in SECOND
        if row["grade"] == "measured" and SOURCES[row["source_id"]]["how"] == "read"
    ]
    assert len(read) >= 100


def test_no_second_opinion_comes_from_the_source_of_our_own_words() -> None:
    ours = {(row["odorant_id"], row["source_id"]) for row in rows("odorant_descriptors")}
    assert not ours & {(row["odorant_id"], row["source_id"]) for row in SECOND}


def test_families_are_known_and_in_order() -> None:
    for row in SECOND:
        listed = row["family_ids"].split(";")
        assert listed == sorted(set(listed)), row["odorant_id"]
        assert set(listed) <= FAMILIES, row["odorant_id"]


def test_a_word_falls_into_the_same_families_wherever_it_stands() -> None:
    assert len(ALONE) >= 40
    for row in SECOND:
        for word in words(row):
            assert ALONE.get(word, set()) <= set(row["family_ids"].split(";")), row["odorant_id"]


def test_every_family_is_owed_to_a_word() -> None:
    # Where each word of a row stands alone somewhere, their families are the row's, and no more.
    judged = 0
    for row in SECOND:
        if all(word in ALONE for word in words(row)):
            owed = set().union(*(ALONE[word] for word in words(row)))
            assert owed == set(row["family_ids"].split(";")), row["odorant_id"]
            judged += 1
    assert judged >= 60


def test_what_the_list_says_of_five_odorants() -> None:
    # Read in the list.
    said = {row["odorant_id"]: row["words"] for row in SECOND}
    assert said["vanillin"] == "vanilla"
    assert said["eugenol"] == "clove, honey"
    assert said["2-furfurylthiol"] == "coffee, roast"
    assert said["guaiacol"] == "smoke, sweet, medicine"
    assert said["methional"] == "cooked potato"

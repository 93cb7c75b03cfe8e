"""The staff's passphrase: its hash, its refusal, and the key that is made of it."""

from __future__ import annotations

import argon2
import pytest

from service.kit import BadData
from service.settings import Passphrase, Settings, check_reach, hashed, signing_key

WORDS = "kelp lantern quarry"


def test_plain_words_and_their_hash_open_the_same_door() -> None:
    for passphrase in (Passphrase.read(WORDS), Passphrase.read(hashed(WORDS))):
        assert passphrase.is_said_by(WORDS)
        assert not passphrase.is_said_by(f"{WORDS} ")
        assert not passphrase.is_said_by("")


def test_the_hash_is_argon2id_at_the_cost_of_the_rfc() -> None:
    """RFC 9106, section 4, second recommended option: 3 passes, 4 lanes, 64 MiB."""
    costs = argon2.extract_parameters(hashed(WORDS))
    assert costs.type is argon2.Type.ID
    assert (costs.time_cost, costs.parallelism, costs.memory_cost) == (3, 4, 64 * 1024)


@pytest.mark.parametrize("words", ["", "short", "x" * 201])
def test_words_that_keep_nobody_out_are_refused(words: str) -> None:
    with pytest.raises(BadData) as caught:
        Passphrase.read(words)
    assert caught.value.field == "MARC_PASSPHRASE"


@pytest.mark.parametrize("broken", ["$argon2id$v=19$m=65536", "$2b$12$abcdefghijk", "$"])
def test_a_hash_cut_short_by_the_shell_is_found_out(broken: str) -> None:
    with pytest.raises(BadData, match="single quotes"):
        Passphrase.read(broken)


def test_odd_words_are_no_fault() -> None:
    assert not Passphrase.read(WORDS).is_said_by("half \ud83d")
    assert not Passphrase.read(WORDS).is_said_by("x" * 1_000_000)


@pytest.mark.parametrize("host", ["0.0.0.0", "::", "192.168.1.5", "bar.example"])
def test_beyond_loopback_a_passphrase_is_needed(host: str) -> None:
    with pytest.raises(BadData, match=r"marc passphrase.*127\.0\.0\.1") as caught:
        check_reach(Settings(database_url="", host=host))
    assert caught.value.field == "MARC_PASSPHRASE"
    check_reach(Settings(database_url="", host=host, passphrase=WORDS))


def test_on_loopback_none_is_needed() -> None:
    check_reach(Settings(database_url=""))


def test_workers_agree_on_the_key_and_another_passphrase_makes_another() -> None:
    made = Settings(database_url="", passphrase=WORDS)
    hash_text = hashed(WORDS)
    by_hash = Settings(database_url="", passphrase=hash_text)
    by_secret = Settings(database_url="", passphrase=WORDS, secret="brine")
    keys = [signing_key(s) for s in (made, by_hash, by_secret)]
    assert keys == [signing_key(s) for s in (made, by_hash, by_secret)]
    assert len({*keys, signing_key(Settings(database_url="", passphrase=WORDS + "!"))}) == 4
    assert {len(key) for key in keys} == {32}


def test_without_anything_each_start_has_a_key_of_its_own() -> None:
    nothing = Settings(database_url="")
    assert signing_key(nothing) != signing_key(nothing)

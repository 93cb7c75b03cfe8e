"""What the environment says, and what of it is refused."""

from __future__ import annotations

import pytest

from service.kit import BadData
from service.settings import Settings, host_of, is_loopback, read_settings


def test_without_any_variable_the_service_keeps_to_this_machine() -> None:
    settings = read_settings({})
    assert (settings.host, settings.port) == ("127.0.0.1", 8017)
    assert settings.on_loopback
    assert not settings.asks_for_login
    assert settings.database_url.startswith("sqlite:///")
    assert settings.database_url.endswith("var/marc.sqlite")


def test_every_variable_is_read() -> None:
    settings = read_settings(
        {
            "MARC_DATABASE_URL": "postgresql://marc@db/bar",
            "MARC_HOST": "0.0.0.0",
            "MARC_PORT": "8080",
            "MARC_HOSTS": "Bar.example, tablet.bar.example,",
            "MARC_PASSPHRASE": "four words said together",
            "MARC_SECRET": "s",
            "MARC_DEMO": "1",
        }
    )
    assert settings == Settings(
        database_url="postgresql://marc@db/bar",
        host="0.0.0.0",
        port=8080,
        hosts=("bar.example", "tablet.bar.example"),
        passphrase="four words said together",
        secret="s",
        demo=True,
    )


@pytest.mark.parametrize("port", ["", "0", "65536", "http", "-1", "٣٤", "²"])
def test_a_port_that_is_none_is_named(port: str) -> None:
    with pytest.raises(BadData) as caught:
        read_settings({"MARC_PORT": port})
    assert caught.value.field == "MARC_PORT"


def test_nothing_secret_is_shown_where_settings_are_printed() -> None:
    shown = repr(Settings(database_url="sqlite:///x", passphrase="kelp lantern", secret="brine"))
    assert "kelp" not in shown
    assert "brine" not in shown


# RFC 5735, section 3 (127.0.0.0/8) and RFC 4291, section 2.5.3 (::1); RFC 6761, section 6.3
# (localhost and every name that ends in it).
@pytest.mark.parametrize(
    ("host", "here"),
    [
        ("127.0.0.1", True), ("127.8.9.1", True), ("::1", True), ("localhost", True),
        ("bar.localhost", True), ("0.0.0.0", False), ("::", False), ("192.168.1.5", False),
        ("localhost.example", False), ("127.0.0.1.example", False), ("", False),
    ],
)  # fmt: skip
def test_loopback_is_told_from_every_other_address(host: str, here: bool) -> None:
    assert is_loopback(host) is here
    assert Settings(database_url="", host=host).on_loopback is here


def test_a_name_of_a_proxy_means_that_others_can_reach_it() -> None:
    behind = Settings(database_url="", hosts=("bar.example",))
    assert not behind.on_loopback
    assert behind.asks_for_login


@pytest.mark.parametrize(
    ("authority", "host"),
    [("Bar.example", "bar.example"), ("[::1]", "::1"), ("localhost:8017", "localhost"), ("", "")],
)
def test_the_host_of_an_authority_is_what_stands_before_the_port(authority: str, host: str) -> None:
    assert host_of(authority) == host

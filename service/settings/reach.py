"""Who can reach an address: this machine alone, or others too."""

from __future__ import annotations

from functools import lru_cache
from ipaddress import ip_address


@lru_cache(maxsize=1_024)
def is_loopback(host: str) -> bool:
    """Whether a name or address leads back to this machine.

    >>> [is_loopback(host) for host in ("127.0.0.1", "::1", "localhost", "0.0.0.0", "bar.example")]
    [True, True, True, False, False]
    """
    if host == "localhost" or host.endswith(".localhost"):
        return True
    try:
        return ip_address(host).is_loopback
    except ValueError:
        return False


def host_of(authority: str) -> str:
    """The host of an authority (RFC 3986, section 3.2), without its port.

    >>> host_of("Bar.example:8017"), host_of("[::1]:8017"), host_of("127.0.0.1")
    ('bar.example', '::1', '127.0.0.1')
    """
    if authority.startswith("["):
        return authority[1:].partition("]")[0].lower()
    return authority.partition(":")[0].lower()

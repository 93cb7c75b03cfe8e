"""The address that guests are given: the bar's own where it is set, else that of the request."""

from __future__ import annotations

from typing import Final
from urllib.parse import urlsplit

from starlette.requests import Request

from service.bar import BarSettings
from service.settings import is_loopback

_ONLY_HERE: Final = (
    "Codes and addresses for guests begin with {address}, which leads nowhere from a guest's "
    "phone. Write the address that phones reach into the bar's settings, then print."
)


def public_address(request: Request, settings: BarSettings) -> str:
    """Where guests reach this service, without a stroke at its end."""
    return settings.public_address or request_address(request)


def request_address(request: Request) -> str:
    """By which address the service was asked."""
    return str(request.base_url).rstrip("/")


def loopback_warning(address: str) -> str:
    """What to mind of an address that only this machine can reach; empty for any other."""
    host = urlsplit(address).hostname if "//" in address else ""
    return _ONLY_HERE.format(address=address) if host and is_loopback(host) else ""

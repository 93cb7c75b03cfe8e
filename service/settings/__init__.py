"""The environment, read here and nowhere else."""

from service.settings.environment import DEFAULT_PORT, Settings, read_settings
from service.settings.passphrase import Passphrase, check_reach, hashed, signing_key
from service.settings.reach import host_of, is_loopback

__all__ = [
    "DEFAULT_PORT",
    "Passphrase",
    "Settings",
    "check_reach",
    "hashed",
    "host_of",
    "is_loopback",
    "read_settings",
    "signing_key",
]

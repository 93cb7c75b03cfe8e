"""The environment, read here and nowhere else."""

from service.settings.environment import Settings, read_settings

__all__ = ["Settings", "read_settings"]

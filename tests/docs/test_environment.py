"""Every variable of the environment is written down, and every one written down is read."""

from __future__ import annotations

import inspect
import re

from service.settings import Settings, environment, read_settings
from tests.docs.regenerate import ROOT

NAME = re.compile(r"\bMARC_[A-Z_]+\b")
TABLE = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8").partition("## Environment")[2]
LISTED = set(NAME.findall(TABLE.partition("\n## ")[0]))


class Recording(dict[str, str]):
    """An environment that remembers what it was asked for."""

    def __init__(self) -> None:
        super().__init__()
        self.asked: set[str] = set()

    def get(self, name: str, default: str = "") -> str:  # type: ignore[override]
        self.asked.add(name)
        return super().get(name, default)

    def __getitem__(self, name: str) -> str:
        self.asked.add(name)
        return super().__getitem__(name)

    def __contains__(self, name: object) -> bool:
        self.asked.add(str(name))
        return super().__contains__(name)


def test_what_the_settings_read_is_what_the_notes_list() -> None:
    recording = Recording()
    read_settings(recording)
    assert recording.asked == LISTED


def test_the_settings_name_every_variable_they_read() -> None:
    assert set(NAME.findall(inspect.getdoc(Settings) or "")) == LISTED


def test_no_other_file_of_the_service_reads_the_environment() -> None:
    # `serve` hands its options on, and numpy's threads are set before numpy is imported.
    allowed = {"service/settings/environment.py", "service/cli/serve.py", "service/__init__.py"}
    reading = {
        path.relative_to(ROOT).as_posix()
        for path in (ROOT / "service").rglob("*.py")
        if "os.environ" in (text := path.read_text(encoding="utf-8")) or "getenv" in text
    }
    assert reading <= allowed
    assert environment.__file__.endswith("service/settings/environment.py")

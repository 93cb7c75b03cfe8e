"""Which browser there is: ours by name, Debian's, Playwright's own, or none."""

from __future__ import annotations

import os
import shutil
from pathlib import Path

from playwright.sync_api import Browser, Error, Playwright

ARGUMENTS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]
NOT_RUN = (
    "the browser tests did not run: no Chromium is here. Install Debian's chromium, or name one "
    "with MARC_CHROMIUM"
)


def chromium_path() -> str | None:
    """The browser to use: the one that is named, Debian's, or whatever is on the path."""
    named = os.environ.get("MARC_CHROMIUM")
    if named:
        return named
    usual = Path("/usr/bin/chromium")
    return str(usual) if usual.exists() else shutil.which("chromium")


def launched(playwright: Playwright) -> Browser | None:
    """A running browser, or None where there is none to run."""
    path = chromium_path()
    try:
        return playwright.chromium.launch(executable_path=path, args=ARGUMENTS)
    except Error:
        if path is not None:
            raise
        return None

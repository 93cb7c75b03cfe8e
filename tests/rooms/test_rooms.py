"""The rooms keep to themselves: imports go down only."""

import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
SLOW_TO_IMPORT = ("sklearn", "pandas")


def test_imports_go_down_only() -> None:
    done = subprocess.run(
        [Path(sys.executable).with_name("lint-imports"), "--no-cache"],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stdout


@pytest.mark.parametrize("module", SLOW_TO_IMPORT)
def test_what_is_slow_to_import_is_not_on_the_way_to_the_first_answer(module: str) -> None:
    code = f"import sys, service.web.app; sys.exit({module!r} in sys.modules)"
    done = subprocess.run([sys.executable, "-c", code], cwd=ROOT, check=False)
    assert done.returncode == 0, f"{module} is imported at start"

"""Run the benchmarks by name, or all of them: `python -m benchmarks [name ...]`."""

from __future__ import annotations

import importlib
import sys

ALL = (
    "service",
    "compose",
    "scale",
    "store",
    "affinity",
    "other_lists",
    "descriptors",
    "robustness",
)


def main(names: list[str]) -> None:
    if unknown := set(names) - set(ALL):
        sys.exit(f"no benchmark is called {sorted(unknown)[0]!r}; there are {', '.join(ALL)}")
    sys.argv = sys.argv[:1]
    for name in names or ALL:
        print(f"\n== {name}\n", flush=True)
        importlib.import_module(f"benchmarks.{name}").main()


if __name__ == "__main__":
    main(sys.argv[1:])

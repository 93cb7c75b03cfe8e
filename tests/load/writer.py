"""Writes one record after another and says each one once it is acknowledged. Meant to be killed.

It writes one for each line it is given, so that it never runs far ahead of who listens.
"""

from __future__ import annotations

import sys

from service.bar import Scope, make_api_token, open_bar


def main(database_url: str, writes: int) -> None:
    bar = open_bar(database_url)
    for number in range(writes):
        sys.stdin.readline()
        with bar.unit("writer") as unit:
            token, _ = make_api_token(unit, f"write {number}", frozenset({Scope.READ}))
        print(token.id, flush=True)


if __name__ == "__main__":
    main(sys.argv[1], int(sys.argv[2]))

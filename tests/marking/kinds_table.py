"""Prints what each kind of learner earns on each boat of the proof: ``python tests/marking/kinds_table.py [words]``."""

from __future__ import annotations

import sys

from kinds import ALL_KINDS, BEST, HEAD, NAMES, NEVER, out_of_order, pairs_of_kinds, row, sheet


def main(words: list[str]) -> None:
    """Print the rows whose names hold all of the words, and what is out of order."""
    names = [name for name in NAMES if all(word in name for word in words)]
    print(HEAD)
    for name in names:
        print(row(name), flush=True)
    wrong = out_of_order(names)
    print("\n".join(wrong))
    print(f"{len(wrong)} of {len(names) * len(pairs_of_kinds())} pairs out of order, {len(ALL_KINDS)} kinds")
    print("fail but should pass:", [(kind, name) for name in names for kind in BEST if not sheet(kind, name).passed])
    print("pass but never may:", [(kind, name) for name in names for kind in NEVER if sheet(kind, name).passed])


if __name__ == "__main__":
    main(sys.argv[1:])

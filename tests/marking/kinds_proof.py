"""The proof over many boats: kinds of learners in order, the best two always pass, the last five never."""

from __future__ import annotations

from collections.abc import Sequence

from kinds import BEST, HEAD, NEVER, out_of_order, pairs_of_kinds, row, sheet

IN_ORDER_SHARE = 0.99


def what_is_wrong(names: Sequence[str]) -> list[object]:
    """Print the table of some boats; return what is not as it is asked, nothing when all is."""
    print(HEAD)
    for name in names:
        print(row(name))
    wrong, pairs = out_of_order(names), len(names) * len(pairs_of_kinds())
    print(f"{len(wrong)} of {pairs} pairs out of order", *wrong, sep="\n")
    failed = [(kind, name, "does not pass") for kind in BEST for name in names if not sheet(kind, name).passed]
    passed = [(kind, name, "passes") for kind in NEVER for name in names if sheet(kind, name).passed]
    return [*(wrong if len(wrong) > (1.0 - IN_ORDER_SHARE) * pairs else []), *failed, *passed]

"""Sorts what hands do into a few sorts, by the name of the action: each sort has one sign in the pictures."""

from __future__ import annotations

from engine_sim.marking.pictures import svg

LOOK, OPEN, CHANGE, RUN, OTHER = "look", "open", "change", "run", "other"
SORTS: tuple[tuple[str, str], ...] = (
    (LOOK, "looked or tried"),
    (OPEN, "opened or closed"),
    (CHANGE, "changed or set right"),
    (RUN, "cranked, levered or ran"),
    (OTHER, "anything else"),
)
_BEGINNINGS: tuple[tuple[str, str], ...] = (
    (RUN, "crank_ run_ swing_ lever_"),
    (OPEN, "open close crack_ shut slacken_ tighten_ undo take_ drain connect isolate"),
    (
        CHANGE,
        "change fit_ new_ remake nip_ add_ clear clean_ mend push_home pull polish dose wipe_out wipe_seat wipe_bowl "
        "pour_ fill blow_ to_ from_pump hold draw_ warm join_ knock",
    ),
    (
        LOOK,
        "look read_ tap dip sample_ wipe_and_try try_ check_ listen card volts feel drop_test signal smoke "
        "turn_by_hand thermometer finger count_",
    ),
)
_EXACTLY = {"clean_terminal": CHANGE, "connect_wire": CHANGE, "fit_gauge": LOOK, "warm": CHANGE}


def sort_of(action: str) -> str:
    """Return the sort of an action: look, open, change, run or other.

    >>> [sort_of(name) for name in ("dip", "open_screw", "change_element", "crank_10", "lay_tray")]
    ['look', 'open', 'change', 'run', 'other']
    """
    if action in _EXACTLY:
        return _EXACTLY[action]
    return next((sort for sort, names in _BEGINNINGS if action.startswith(tuple(names.split()))), OTHER)


def sign(sort: str, x: float, y: float) -> str:
    """Return the drawn sign of a sort, its middle at (x, y): no sort is told apart by colour."""
    if sort == LOOK:
        return svg.element(
            "circle", cx=x, cy=y, r=5, fill="none", stroke="currentColor", stroke_width=1.6, data_sort=sort
        )
    if sort == CHANGE:
        return svg.shape(svg.box(x - 5, y - 5, 10, 10), "currentColor", data_sort=sort)
    if sort == OPEN:
        return svg.shape(((x, y - 6), (x + 6, y + 5), (x - 6, y + 5)), data_sort=sort)
    if sort == RUN:
        arms = (((x - 5, y - 5), (x + 5, y + 5)), ((x - 5, y + 5), (x + 5, y - 5)))
        return svg.stroke(arms, 2.2, data_sort=sort)
    return svg.element("circle", cx=x, cy=y, r=2, fill="currentColor", stroke="none", data_sort=sort)

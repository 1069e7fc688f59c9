"""One picture of the work: places from the tank to the injectors against time, a sign for each action."""

from __future__ import annotations

from html import escape

from engine_sim.marking.signs import CHECKS, CRANKS, FAULT_CHANGES, FUEL_WORK, RUNS
from engine_sim.marking.track import Moment, Track
from engine_sim.units import clock_text

ROWS: tuple[tuple[str, tuple[str, ...]], ...] = (
    ("around the engine", ("bench",)),
    ("battery, starter", ("battery", "starter")),
    ("engine, stop control", ("engine", "stop_control")),
    ("tank", ("tank",)),
    ("shut-off", ("shut_off",)),
    ("separator inlet joint", ("separator_joint",)),
    ("separator", ("separator",)),
    ("lift-pump inlet joint", ("pump_joint",)),
    ("lift pump", ("lift_pump",)),
    ("fine filter", ("fine_filter",)),
    ("injection pump", ("injection_pump",)),
    ("injectors, return line", ("injector_1", "injector_2", "injector_3", "return_line")),
)
LEFT, RIGHT, TOP, ROW_HEIGHT, WIDTH = 168.0, 16.0, 30.0, 24.0, 760.0
LONGEST_STEP_S = 120.0
KINDS: tuple[tuple[str, str], ...] = (
    ("check", "looked or tried"),
    ("open", "opened or closed"),
    ("change", "changed or set"),
    ("crank", "cranked or ran"),
    ("other", "anything else"),
)


def kind_of(moment: Moment) -> str:
    """Return which sign an action gets in the picture."""
    if moment.among(CRANKS + RUNS):
        return "crank"
    if moment.among(FAULT_CHANGES):
        return "change"
    if moment.among((*FUEL_WORK, "*.close_*", "*.tighten_nut")):
        return "open"
    return "check" if moment.among(CHECKS) else "other"


def sign(kind: str, x: float, y: float) -> str:
    """Return the drawn sign of a kind of action, centred on (x, y)."""
    if kind == "check":
        return f'<circle cx="{x:.1f}" cy="{y:.1f}" r="5" fill="none" stroke="currentColor" stroke-width="1.6"/>'
    if kind == "change":
        return f'<rect x="{x - 5:.1f}" y="{y - 5:.1f}" width="10" height="10" fill="currentColor"/>'
    if kind == "open":
        points = f"{x:.1f},{y - 6:.1f} {x + 6:.1f},{y + 5:.1f} {x - 6:.1f},{y + 5:.1f}"
        return f'<polygon points="{points}" fill="none" stroke="currentColor" stroke-width="1.6"/>'
    if kind == "crank":
        arms = f"M{x - 5:.1f} {y - 5:.1f} L{x + 5:.1f} {y + 5:.1f} M{x - 5:.1f} {y + 5:.1f} L{x + 5:.1f} {y - 5:.1f}"
        return f'<path d="{arms}" stroke="currentColor" stroke-width="2.2" fill="none"/>'
    return f'<circle cx="{x:.1f}" cy="{y:.1f}" r="1.8" fill="currentColor"/>'


def places(track: Track) -> list[float]:
    """Return where each moment lies along the strip [0..1]; long waits are drawn as two minutes."""
    reached, spots = 0.0, []
    for moment in track.moments:
        taken = min(max(moment.end_s - moment.start_s, 4.0), LONGEST_STEP_S)
        spots.append(reached + taken / 2)
        reached += taken
    return [spot / reached for spot in spots] if reached else []


def text(x: float, y: float, words: str, anchor: str = "start", weight: str = "normal") -> str:
    """Return a piece of text in the picture."""
    return (
        f'<text x="{x:.1f}" y="{y:.1f}" text-anchor="{anchor}" font-size="12" font-weight="{weight}" '
        f'fill="currentColor">{escape(words)}</text>'
    )


def grid(bottom: float) -> list[str]:
    """Return the rows with their names."""
    lines = []
    for index, (name, _) in enumerate(ROWS):
        y = TOP + ROW_HEIGHT * (index + 0.5)
        lines.append(text(LEFT - 10, y + 4, name, "end"))
        lines.append(f'<path d="M{LEFT} {y} H{WIDTH - RIGHT}" stroke="currentColor" stroke-opacity="0.25"/>')
    flow_x, first = 12.0, TOP + ROW_HEIGHT * 3.5
    arrow = f"M{flow_x} {first} V{bottom - 12} m-4 -6 l4 6 l4 -6"
    lines.append(f'<path d="{arrow}" fill="none" stroke="currentColor" stroke-width="1.4"/>')
    return lines


def ticks(track: Track, spots: list[float]) -> list[str]:
    """Return clock readings along the top, far enough apart to be read."""
    lines, last = [], -1.0
    for moment, spot in zip(track.moments, spots, strict=True):
        if spot - last >= 0.11:
            x = LEFT + spot * (WIDTH - LEFT - RIGHT)
            lines.append(text(x, TOP - 10, clock_text(moment.start_s), "middle"))
            last = spot
    return lines


def legend(y: float) -> list[str]:
    """Return what each sign means, drawn under the strip."""
    lines, x = [], LEFT
    for kind, words in KINDS:
        lines += [sign(kind, x, y), text(x + 10, y + 4, words)]
        x += 24 + 6.6 * len(words)
    lines += [text(LEFT - 3, y + 24, "!", "start", "bold"), text(LEFT + 10, y + 24, "cost marks")]
    return lines


def describe(track: Track) -> str:
    """Return the picture in words: how many actions, where the work began and ended."""
    if not track.moments:
        return "Nothing was done."
    names = {part: name for name, parts in ROWS for part in parts}
    stops: list[str] = []
    for moment in track.moments:
        name = names.get(moment.part, moment.part)
        if not stops or stops[-1] != name:
            stops.append(name)
    route = ", then ".join(stops[:40]) + (" and on" if len(stops) > 40 else "")
    lasted = clock_text(track.moments[-1].end_s)
    return f"{len(track.moments)} actions in {lasted} (hours:minutes:seconds). Places in order: {route}."


def draw_work(track: Track, costly_s: frozenset[float] = frozenset()) -> str:
    """Return the strip as SVG that reads on light and dark paper; ``costly_s`` are moments [s] that cost marks."""
    rows = {part: index for index, (_, parts) in enumerate(ROWS) for part in parts}
    bottom = TOP + ROW_HEIGHT * len(ROWS)
    spots = places(track)
    body = grid(bottom) + ticks(track, spots)
    for moment, spot in zip(track.moments, spots, strict=True):
        x, y = LEFT + spot * (WIDTH - LEFT - RIGHT), TOP + ROW_HEIGHT * (rows.get(moment.part, 0) + 0.5)
        body.append(sign(kind_of(moment), x, y))
        if moment.end_s in costly_s:
            body.append(text(x + 6, y - 4, "!", "start", "bold"))
    body += legend(bottom + 16)
    title = "Your work, from the tank to the injectors"
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH:.0f} {bottom + 52:.0f}" width="100%" role="img" '
        f'aria-label="{title}" font-family="sans-serif" style="max-width:{WIDTH:.0f}px">'
        f"<title>{title}</title><desc>{escape(describe(track))}</desc>{''.join(body)}</svg>"
    )

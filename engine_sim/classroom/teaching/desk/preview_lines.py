"""What came of trying out an exercise, as an instructor reads it."""

from __future__ import annotations

from engine_sim.classroom.teaching.desk.panel import Shown, table
from engine_sim.classroom.teaching.preview import DrawPreview, Preview

Line = tuple[str, str]
NOTHING_ALIKE = "No other fault looks the same before something is opened."


def lines_of(found: Preview) -> list[Line]:
    """Return the sentences, each with what it is: a heading, a sentence or a warning."""
    lines: list[Line] = [("warn", text) for text in found.warnings]
    for draw in found.draws:
        lines += _lines_of(draw)
    return lines


def _lines_of(draw: DrawPreview) -> list[Line]:
    passing = sum(one.passed for one in draw.kinds)
    solvable = (
        "Sound work finds and cures it." if draw.solvable else "Sound work, from tank to pump, does not solve it."
    )
    alike = "; ".join(draw.alike.before_opening)
    same = f"Before anything is opened this looks the same: {alike}." if alike else NOTHING_ALIKE
    return [
        ("head", draw.what),
        *(("warn", text) for text in draw.warnings),
        *(("first", f"{told.deed}: {' '.join(told.noticed)}") for told in draw.first),
        (
            "hard",
            f"{solvable} The best search takes about {draw.expected_minutes:.0f} minutes on average over all that may "
            f"be wrong on such a boat. {passing} of {len(draw.kinds)} kinds of simulated learners pass.",
        ),
        ("same", same),
    ]


def tables_of(found: Preview) -> list[Shown]:
    """Return the best way, the kinds of learners and the draws as tables."""
    tables = []
    for draw in found.draws:
        way = [(step.check, f"{step.minutes:.1f} min", step.why) for step in draw.way]
        tables.append(
            table(
                f"{draw.what}: the best order of checks for who has noticed nothing yet, {draw.way_minutes:.0f} min",
                ("check", "takes", "why"),
                way,
            )
        )
        kinds = [
            (
                one.kind,
                f"{one.points:.1f} of {one.most_points:g}",
                "yes" if one.cured else "no",
                "yes" if one.passed else "no",
                f"{one.minutes:.0f} min",
                str(one.deeds),
            )
            for one in draw.kinds
        ]
        heads = ("simulated learner", "points", "cured", "passed", "boat's clock, with proving and waiting", "deeds")
        tables.append(table(f"{draw.what}: who would pass", heads, kinds))
    if len(found.hardness) > 1:
        hard = [(one.what, f"{one.minutes:.0f} min", "yes" if one.passed else "no") for one in found.hardness]
        tables.append(table("All that can be drawn, as the model fares", ("fault", "boat's clock", "passed"), hard))
    return tables

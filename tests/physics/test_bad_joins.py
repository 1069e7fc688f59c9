"""A layout whose parts do not hang together is refused with its line, the name and what is allowed."""

from __future__ import annotations

import pytest
from written_layouts import SOUND, changed, refused

from engine_sim.circuit import read_layout
from engine_sim.errors import BadLayout


def test_unknown_port():
    """The part's own ports are what is allowed."""
    refused(changed('"lift_pump.outlet"', '"lift_pump.outled"'), "outled", "'lift_pump.outlet'", "lift_pump.can_inlet")


def test_a_part_without_ports_of_its_own_is_joined_through():
    """A valve is named in a join's ``through``, not as one of its ends."""
    refused(changed('to = "hose.start"', 'to = "shut_off.start"'), "shut_off.start", "joined through")


def test_unknown_part_to_join_through():
    """The nearest name is offered."""
    refused(changed('through = "shut_off"', 'through = "shutoff"'), '"shutoff"', "Did you mean 'shut_off'?")


def test_unknown_entry_of_a_join_and_of_the_file():
    """Nothing in the file is silently left aside."""
    refused(changed('through = "shut_off"', 'thru = "shut_off"'), "thru", "Did you mean 'through'?")
    refused(SOUND.replace("[[part]]", "[[parts]]"), "[[parts]]", "Did you mean 'part'?")


def test_unjoined_port():
    """At the line of the part whose port is loose."""
    line = SOUND.splitlines().index('id = "lift_pump"')
    with pytest.raises(BadLayout, match=rf"^Line {line}: Port 'lift_pump.outlet' is joined to nothing. Add a \[\[join"):
        read_layout(changed('[[join]]\nfrom = "lift_pump.outlet"\nto = "back.start"\n\n', ""))


def test_valve_that_no_join_goes_through():
    """A part without a space of its own has to sit somewhere."""
    with pytest.raises(BadLayout, match=r"^Line \d+: No join goes through 'shut_off'"):
        read_layout(changed('through = "shut_off"\n', ""))


def test_optional_ports_may_stay_loose():
    """The pump's second inlet, the tank's return."""
    text = changed('[[join]]\nfrom = "back.end"\nto = "tank.return"\n', "")
    with pytest.raises(BadLayout, match=r"Port .back\.end. is joined to nothing"):
        read_layout(text)
    can = '[[part]]\nid = "can"\nkind = "fuel_can"\nfloor_m = 0.1\n'
    layout = read_layout(f'{text}\n{can}\n[[join]]\nfrom = "back.end"\nto = "can.return"\n')
    assert "can" in layout.parts


def test_port_joined_twice():
    """Both joins are named by their lines."""
    text = SOUND + '\n[[part]]\nid = "can"\nkind = "fuel_can"\nfloor_m = 0.1\n'
    twice = f'{text}\n[[join]]\nfrom = "back.end"\nto = "can.return"\n'
    with pytest.raises(BadLayout, match=r"^Line \d+: Port 'back.end' is joined twice \(see also line \d+\)"):
        read_layout(twice)
    links = {link.id: link.opening for link in read_layout(f"{twice}open = false\n").blueprint.links}
    assert (links["back>tank"], links["back>can"]) == (1.0, 0.0)


def test_the_same_join_twice_needs_an_id():
    """Two links cannot go by one id."""
    text = SOUND + '\n[[join]]\nfrom = "hose.end"\nto = "lift_pump.can_inlet"\nopen = false\n'
    with pytest.raises(BadLayout, match=r"^Line \d+: The join 'hose>lift_pump' is there twice; give one of them an id"):
        read_layout(text)
    assert read_layout(f'{text}id = "by_hand"\n').blueprint.links[-1].id == "by_hand"


def test_port_joined_to_itself():
    """One port, two names needed."""
    refused(changed('to = "hose.start"\nthrough', 'to = "tank.pick_up"\nthrough'), "[[join]]", "joined to itself")


RING = """
[[part]]
id = "one"
kind = "hose"

[[part]]
id = "two"
kind = "hose"

[[join]]
from = "one.end"
to = "two.start"

[[join]]
from = "two.end"
to = "one.start"
"""


def test_a_ring_without_pump_or_vessel():
    """Nothing drives fuel round a closed ring of hoses."""
    with pytest.raises(BadLayout, match=r"^Line \d+: ('one', 'two'|'two', 'one') form a ring with no pump"):
        read_layout(SOUND + RING)


def test_a_hose_joined_to_itself_is_a_ring():
    """The smallest one."""
    with pytest.raises(BadLayout, match="'one' form a ring with no pump"):
        read_layout(f'{SOUND}\n[[part]]\nid = "one"\nkind = "hose"\n\n[[join]]\nfrom = "one.end"\nto = "one.start"\n')


VALVES = """
[[part]]
id = "{valve}"
kind = "changeover_valve"
bottom_m = 0.0
"""

HOSE = """
[[part]]
id = "{hose}"
kind = "hose"
start_height_m = {start}
end_height_m = {end}
"""


def joined(*ends: str) -> str:
    """Return joins, each given as ``from to`` or ``from to through``."""
    keys = ("from", "to", "through")
    tables = ["".join(f'{key} = "{name}"\n' for key, name in zip(keys, each.split(), strict=False)) for each in ends]
    return "".join(f"\n[[join]]\n{table}" for table in tables)


def test_a_ring_over_a_changeover_valve():
    """Its outlet led back to its own inlet."""
    text = SOUND + VALVES.format(valve="valve")
    text += HOSE.format(hose="one", start=0.0, end=0.0) + HOSE.format(hose="two", start=0.8, end=0.0)
    text += joined("lift_pump.can_inlet two.start", "two.end valve.inlet_a valve.a")
    text += joined("valve.outlet one.start", "one.end valve.inlet_b valve.b")
    with pytest.raises(BadLayout, match=r"^Line \d+: 'one', 'valve' form a ring with no pump"):
        read_layout(text)


def test_two_ways_side_by_side_are_no_such_ring():
    """From one changeover valve to another by either of two hoses: driven from outside, so taken."""
    text = SOUND + VALVES.format(valve="first") + VALVES.format(valve="second")
    for hose, start, end in (("up", 0.8, 0.0), ("one", 0.0, 0.0), ("two", 0.0, 0.0), ("off", 0.0, 0.8)):
        text += HOSE.format(hose=hose, start=start, end=end)
    text += '\n[[part]]\nid = "spare"\nkind = "tank"\nfloor_m = 0.78\n'
    text += joined("lift_pump.can_inlet up.start", "up.end first.outlet", "first.inlet_a one.start first.a")
    text += joined("first.inlet_b two.start first.b", "one.end second.inlet_a second.a")
    text += joined("two.end second.inlet_b second.b", "second.outlet off.start", "off.end spare.pick_up")
    assert "second" in read_layout(text).parts


@pytest.mark.parametrize(("off_m", "refuses"), [(0.015, False), (0.03, True), (-0.05, True)])
def test_heights_that_do_not_meet(off_m, refuses):
    """Two centimetres are allowed; the tank's pick-up port reaches from 0.020 to 0.028 m."""
    height = (0.028 if off_m > 0.0 else 0.020) + off_m
    text = changed("start_height_m = 0.024", f"start_height_m = {height}")
    if refuses:
        with pytest.raises(BadLayout, match=r"^Line \d+: 'tank.pick_up' lies at 0.020 to 0.028 m and 'hose.start' at"):
            read_layout(text)
    else:
        assert read_layout(text).figures["hose"]["start_height_m"] == height


GRAVITY = """
[[part]]
id = "tank"
kind = "tank"
floor_m = {floor}

[[part]]
id = "hose"
kind = "hose"
start_height_m = {start}
end_height_m = 0.9

[[part]]
id = "injection_pump"
kind = "injection_pump"
bottom_m = 0.9

[[part]]
id = "back"
kind = "hose"
start_height_m = 0.93
end_height_m = {end}
"""


@pytest.mark.parametrize(("floor_m", "refuses"), [(0.4, True), (1.2, False)])
def test_a_tank_below_the_injection_pump_and_no_pump(floor_m, refuses):
    """Fuel does not climb by itself; from a tank above it runs down."""
    text = GRAVITY.format(floor=floor_m, start=floor_m + 0.024, end=floor_m + 0.396)
    text += joined("tank.pick_up hose.start", "hose.end injection_pump.inlet", "back.end tank.return")
    text += joined("injection_pump.overflow back.start injection_pump.overflow")
    if refuses:
        with pytest.raises(BadLayout, match=r"^Line 13: Nothing lifts the fuel to 'injection_pump': there is no pump"):
            read_layout(text)
    else:
        assert read_layout(text).parts_of("injection_pump") == ("injection_pump",)

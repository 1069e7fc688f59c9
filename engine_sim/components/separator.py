"""The separator: a bowl where water settles, an element, and a head from which the fuel leaves."""

from __future__ import annotations

from engine_sim.components.blueprint import (
    Blueprint,
    ElementSpec,
    LinkKind,
    LinkSpec,
    PortSpec,
    ThroughSpec,
    VolumeSpec,
)
from engine_sim.components.component import ComponentKind, Numbers, Parameter
from engine_sim.components.geometry import (
    add_opening,
    counted,
    fitting_loss_1_per_m4,
    refuse_unless_rising,
    remembered,
    usual,
)

_RUTH = "B. F. Ruth, Industrial and Engineering Chemistry 27 (1935): cake filtration (cited from memory)"


def element_parameters(
    area_m2: float, medium_1_per_m: float, dirt_share: float, droplet_share: float
) -> tuple[Parameter, ...]:
    """Return the figures of a filter element of the given size, resistance and efficiency."""
    return (
        usual("element_area_m2", area_m2, "m2", 0.005, 2.0, "area of the element"),
        remembered("medium_resistance_1_per_m", medium_1_per_m, "1/m", 1e7, 1e12, "resistance of the clean element"),
        usual("cake_resistance_m_per_kg", 1e12, "m/kg", 1e9, 1e15, "resistance of the dirt on it", _RUTH),
        remembered("held_dirt_share", dirt_share, "1", 0.0, 1.0, "share of the dirt that stays on it"),
        remembered("held_droplet_share", droplet_share, "1", 0.0, 1.0, "share of water droplets that it turns back"),
    )


def add_filter_body(
    blueprint: Blueprint,
    part: str,
    numbers: Numbers,
    dirty: VolumeSpec,
    clean: VolumeSpec,
    element: tuple[float, float],
    ring_area_m2: float,
) -> None:
    """Add the two spaces of a filter with the element between them; ``element`` is its low and high edge [m].

    Shut, and so without effect, are its ring, which leaks as a share of ``ring_area_m2``, and its two mouths, by which
    both spaces lie open when bowl or can is off: what comes in falls out at their floor.
    """
    blueprint.volumes += [dirty, clean]
    mouth, top = numbers["port_height_m"], dirty.top_m
    add_opening(blueprint, f"{part}.ring", PortSpec(dirty.id, top - mouth, top), ring_area_m2)
    for name, space in (("mouth", dirty), ("mouth_behind", clean)):
        floor = PortSpec(space.id, space.bottom_m, space.bottom_m + mouth)
        add_opening(blueprint, f"{part}.{name}", floor, numbers["mouth_area_m2"])
    link = f"{part}.element"
    low, high = element
    blueprint.links.append(LinkSpec(link, part, PortSpec(dirty.id, low, high), PortSpec(clean.id, low, high), 0.0, 0.0))
    blueprint.elements.append(
        ElementSpec(
            link,
            numbers["element_area_m2"],
            numbers["medium_resistance_1_per_m"],
            numbers["cake_resistance_m_per_kg"],
            numbers["held_dirt_share"],
            numbers["held_droplet_share"],
        )
    )


def _build(blueprint: Blueprint, part: str, numbers: Numbers) -> None:
    refuse_unless_rising(part, numbers, "element_from", "element_to")
    bottom, height, mouth = numbers["bottom_m"], numbers["height_m"], numbers["port_height_m"]
    top = bottom + height
    element = (bottom + numbers["element_from"] * height, bottom + numbers["element_to"] * height)
    give = numbers["wall_give_m3_per_pa"]
    dirty = VolumeSpec(f"{part}.bowl", part, numbers["volume_m3"], bottom, top, give)
    clean = VolumeSpec(f"{part}.head", part, numbers["head_volume_m3"], element[0], top + mouth, give)
    add_filter_body(blueprint, part, numbers, dirty, clean, element, numbers["vent_area_m2"])
    blueprint.ports[f"{part}.inlet"] = PortSpec(dirty.id, top - 3 * mouth, top - 2 * mouth)
    blueprint.ports[f"{part}.outlet"] = PortSpec(clean.id, top, top + mouth)
    add_opening(blueprint, f"{part}.vent", PortSpec(dirty.id, top - mouth, top), numbers["vent_area_m2"])
    add_opening(blueprint, f"{part}.drain", PortSpec(dirty.id, bottom, bottom + mouth), numbers["drain_area_m2"])
    ball_loss = fitting_loss_1_per_m4(numbers["ball_velocity_heads"], numbers["ball_bore_m"])
    blueprint.through[f"{part}.ball"] = ThroughSpec(
        part, 0.0, ball_loss, LinkKind.ONE_WAY, {"opens_at_pa": numbers["ball_opens_at_pa"]}
    )


KIND = ComponentKind(
    name="separator",
    purpose="lets water and coarse dirt settle in its bowl before they reach the engine",
    parameters=(
        usual("bottom_m", 0.5, "m", -3.0, 3.0, "height of the bowl's bottom above the datum"),
        usual("height_m", 0.20, "m", 0.05, 0.6, "height of bowl and housing"),
        usual("volume_m3", 0.00040, "m3", 5e-5, 0.005, "bowl and housing around the element"),
        usual("head_volume_m3", 0.00006, "m3", 5e-6, 0.001, "space behind the element"),
        counted("bowl_glass", 1, 0, 1, "1 for a bowl of glass, 0 for one of metal that shows nothing"),
        usual("port_height_m", 0.006, "m", 0.001, 0.03, "height of ports, screw and tap"),
        usual("element_from", 0.45, "1", 0.05, 0.9, "lower edge of the element as a share of the height"),
        usual("element_to", 0.90, "1", 0.1, 1.0, "upper edge of the element as a share of the height"),
        *element_parameters(0.10, 3.119e9, 1.0, 0.92),
        usual("vent_area_m2", 4e-6, "m2", 1e-7, 1e-4, "opening of the top vent"),
        usual("drain_area_m2", 1.2e-5, "m2", 1e-7, 1e-4, "opening of the drain tap"),
        usual("mouth_area_m2", 3e-4, "m2", 5e-5, 5e-3, "way out on either side of the element with the bowl off"),
        usual("ball_bore_m", 0.006, "m", 0.001, 0.02, "bore at the ball that keeps fuel from running back"),
        usual("ball_velocity_heads", 3.0, "1", 0.0, 100.0, "velocity heads lost at that ball"),
        remembered("ball_opens_at_pa", 100.0, "Pa", 0.0, 5e3, "pressure that lifts that ball"),
        usual("wall_give_m3_per_pa", 2e-12, "m3/Pa", 1e-14, 1e-8, "how far the housing gives"),
    ),
    ports=("inlet", "outlet"),
    build=_build,
)

"""SI inside; the few conversions needed where people read, and the constants that units hang on."""

from __future__ import annotations

from engine_sim.sources import FROM_MEMORY, SourcedValue, published

_CODATA = "BIPM, The International System of Units (SI Brochure), 9th edition, 2019"

STANDARD_GRAVITY_M_PER_S2 = SourcedValue(
    9.80665, "m/s2", published(f"{_CODATA}: standard acceleration of gravity")
).value
STANDARD_ATMOSPHERE_PA = SourcedValue(
    101_325.0, "Pa", published("ISO 2533:1975, standard atmosphere at sea level")
).value
ZERO_CELSIUS_K = SourcedValue(273.15, "K", published(_CODATA)).value

INCH_OF_MERCURY_PA = SourcedValue(3386.389, "Pa", FROM_MEMORY, "conventional, as in NIST SP 811, appendix B").value

LITRE_M3 = 1e-3
MILLILITRE_M3 = 1e-6
CUBIC_MILLIMETRE_M3 = 1e-9
BAR_PA = 1e5
KILOPASCAL_PA = 1e3
MINUTE_S = 60.0
HOUR_S = 3600.0
LITRE_PER_HOUR_M3_PER_S = LITRE_M3 / HOUR_S
RPM_PER_S = 1.0 / MINUTE_S


def celsius_to_kelvin(temperature_c: float) -> float:
    """Return a temperature [K] from one in [degC]."""
    return temperature_c + ZERO_CELSIUS_K


def clock_text(time_s: float) -> str:
    """Return a time since the start as people read it, ``h:mm:ss``."""
    whole = int(time_s + 0.5)
    return f"{whole // 3600}:{whole // 60 % 60:02d}:{whole % 60:02d}"


def duration_text(time_s: float) -> str:
    """Return how long something takes in plain words, such as ``20 s`` or ``5 min``."""
    if time_s < 2 * MINUTE_S:
        return f"{time_s:.0f} s"
    if time_s < 2 * HOUR_S:
        return f"{time_s / MINUTE_S:.0f} min"
    return f"{time_s / HOUR_S:.0f} h"

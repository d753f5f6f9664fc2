"""Names of length units as files write them, in metres."""

import math

US_SURVEY_FOOT_M = 1200 / 3937  # exact, by its definition
UNIT_M: dict[str, float] = {
    "m": 1.0,
    "metre": 1.0,
    "metres": 1.0,
    "meter": 1.0,
    "meters": 1.0,
    "mm": 0.001,
    "cm": 0.01,
    "km": 1000.0,
    "ft": 0.3048,  # exact, international foot
    "foot": 0.3048,
    "feet": 0.3048,
    "in": 0.0254,  # exact, international inch
    "inch": 0.0254,
    "inches": 0.0254,
    "yd": 0.9144,
    "usft": US_SURVEY_FOOT_M,
    "ftus": US_SURVEY_FOOT_M,
    "sft": US_SURVEY_FOOT_M,
}
# Codes of the DXF header variable $INSUNITS (DXF reference, from memory); 0 is "no unit".
DXF_UNIT_M: dict[int, float] = {
    1: 0.0254,
    2: 0.3048,
    3: 1609.344,
    4: 0.001,
    5: 0.01,
    6: 1.0,
    7: 1000.0,
    10: 0.9144,
    14: 0.1,
    15: 10.0,
    16: 100.0,
    21: US_SURVEY_FOOT_M,
}


def dxf_unit_m(code: object) -> float:
    """Metres in one drawing unit by $INSUNITS; NaN where it says no unit or one that no site is drawn in."""
    return DXF_UNIT_M.get(code, math.nan) if isinstance(code, int) else math.nan

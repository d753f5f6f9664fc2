"""Units in and out, nothing else: text with a unit to SI, and SI to text for people."""

from fencewright.quantity.parse import QuantityError, parse_quantity
from fencewright.quantity.show import UnitSystem, show_feet_inches, show_force, show_inches, show_length

__all__ = [
    "QuantityError",
    "UnitSystem",
    "parse_quantity",
    "show_feet_inches",
    "show_force",
    "show_inches",
    "show_length",
]

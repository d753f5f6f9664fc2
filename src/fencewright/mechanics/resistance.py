"""Load and resistance factor design of timber and steel, from allowable-stress values."""

from types import MappingProxyType

# format conversion KF times resistance factor phi, from memory, source: nds-timber table N1 and N2
TIMBER_FACTORS = MappingProxyType(
    {"bending": 2.54 * 0.85, "shear": 2.88 * 0.75, "compression": 2.40 * 0.90, "least modulus": 1.76 * 0.85}
)
# phi 0.9 over the reciprocal of the safety factor 1.67, from memory, source: aisc-360
STEEL_FACTOR = 0.9 * 1.67


def timber_factor(kind: str, time_effect: float) -> float:
    """Factor from a reference value to its LRFD resistance: KF phi lambda; no time effect on a modulus. [-]

    Parameters
    ----------
    kind : str
        `bending`, `shear`, `compression` or `least modulus`.
    time_effect : float
        Lambda: 0.6 permanent, 0.8 variable loads, 1.0 wind. [-]

    References
    ----------
    nds-timber (appendix N, from memory).
    """
    factor = TIMBER_FACTORS[kind]
    return factor if kind == "least modulus" else factor * time_effect

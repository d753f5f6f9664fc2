"""The cautions that every place with a number of strength or tension repeats; their words stand here alone."""

NOT_A_SEAL = "A builder's check, not an engineer's seal. Local code and licensed practice decide."
TIGHT_RAIL = "A wire under tension can kill: stand clear, wear eye protection, never cut a tight rail."
BURIED_SERVICES = "Have buried services located and marked before any hole is dug; dig by hand near a mark."

STRENGTH_CAUTIONS = (NOT_A_SEAL, TIGHT_RAIL)
DESIGN_CAUTIONS = (*STRENGTH_CAUTIONS, BURIED_SERVICES)

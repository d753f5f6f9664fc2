"""Papers for customer and field: records turned into PDF."""

"""stub."""
def strength_findings(*a):
    return []

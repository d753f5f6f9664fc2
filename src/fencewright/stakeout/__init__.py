"""The stake-out stage: how each hole is marked on the ground."""

"""The price: packs, hours and rates to a total, and how far that total may move."""

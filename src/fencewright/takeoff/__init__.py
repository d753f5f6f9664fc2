"""Take-off: what to buy, cut and dig, counted from the geometry."""

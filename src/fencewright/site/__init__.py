"""The site: ground, soil, climate, what lies in the way, and the plane it is drawn on."""

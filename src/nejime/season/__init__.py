"""The season: the traditional calendar, the climate of a place, and what is in bloom there."""

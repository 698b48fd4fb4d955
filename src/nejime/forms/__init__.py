"""Vessels, proportions that are taught, and the three main stems in space."""

"""Arranging material: what each plant is called, and what is known of it."""

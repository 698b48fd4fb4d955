"""What every room stands on: angles, units, errors, sayings, packaged tables and sources."""

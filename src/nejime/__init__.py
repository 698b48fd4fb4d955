"""What an ikebana class needs, computed for each participant's own vessel."""

__version__ = "0.5.0"

"""Whether a piece is well composed, what would mend it, and where the next stem could go."""

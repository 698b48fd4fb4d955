"""What a teacher does, one file an act. Pages and commands call here and nowhere below."""

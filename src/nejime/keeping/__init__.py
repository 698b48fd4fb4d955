"""Keeping material alive and people safe: preparing, holding, cautions of plants."""

"""The marker card: where its markers' corners are."""


def corner_points_cm(marker_id: int) -> tuple[tuple[float, float], ...]:
    """Corners of a marker from the card's middle: x right, y up the page."""
    x, y = ((12, 12), (158, 12), (158, 96), (12, 96))[marker_id]
    around = ((x, y), (x + 40, y), (x + 40, y + 40), (x, y + 40))
    return tuple(((across - 105) / 10, (74 - down) / 10) for across, down in around)

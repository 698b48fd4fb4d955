"""The marker card, to be printed and laid beside the bowl."""

from __future__ import annotations

import datetime as dt

from nejime.desk.settings import stock_for, words_for
from nejime.desk.shelf import Shelf
from nejime.papers.marker_card import marker_card
from nejime.papers.pdf import print_sheets


def printed(shelf: Shelf, today: dt.date) -> bytes:
    """The card as PDF, at true size."""
    sheet = marker_card(words_for(shelf))
    return print_sheets([sheet], stock_for(shelf, today), sheet.title).pdf

"""What to buy and cut: stems wanted, what the shops and the garden have, piles and sets."""

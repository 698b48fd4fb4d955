"""One class: who comes, what happens when, what it costs, what must be in the room."""

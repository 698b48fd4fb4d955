"""Look at the work: a piece that somebody made, from its photographs to what is said of it.

`begin` asks what it is, `views` and `pictures` hold its photographs, `marks` and `rim` what was
touched in them; `answer` measures, `says` (with `changes`, `numbers`, `outline`) tells what a
teacher would; `becoming`, `piece` and `to_table` make it a piece of the arranging table, `printing`
a sheet to make it again; `card` prints the marker card, `listing` shows all of them.
"""

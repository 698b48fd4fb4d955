"""Whether a piece is well composed, what would mend it, and where the next stem could go.

How it is called::

    here = setting(piece, material, seat=None, allow=frozenset())   # setting.py
    findings(here)              # checks.py: all of them, no remedies: at every step of a drag
    shown(found)                # checks.py: the three of them that are worth saying
    advice(here)                # advice.py: those three, each with its remedy: on release
    suggest(piece, at_hand, …)  # suggesting.py: long work; `progress` and `stop` are for a job

`material` is by stem id; what is missing is of the usual kind. `allow` is what the piece may do
although most may not (`setting.ALLOWED`). A remedy holds the piece and the material as they are
when it is done, and so does a suggestion: doing it is taking them.
"""

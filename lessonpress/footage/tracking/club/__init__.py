"""The club found picture by picture, between those on which its head was placed by hand.

A shaft is the one long, thin, straight thing in a film that moves: a stripe whose two flanks are alike. In
every picture such stripes are looked for (`stripes.py`, `shafts.py`) against the room as it is without the
golfer (`backdrop.py`); of those found, one a picture at the most is chosen so that the club moves smoothly
from one click to the next (`path.py`), and of these those that may be believed (`places.py`). Its far end,
put right by where the head was clicked, or the spot there that is broader (`ends.py`, `spot.py`), is the
clubhead, which along the target line is looked for by itself as well (`lone.py`); `heads.py` joins all that.
Blurred by its motion a shaft is a fan: a wide stripe, whose middle is where it was in the middle of the
exposure.
"""

"""Withdrawal: a clip, a picture, or all of a person, taken out of a site and of what the program made of it.

`reach.py` says which clips, pictures and lessons it concerns, `traces.py` where they were published or sent
and what still names them, `moving.py` takes them out and back, `closing.py` says until when. The steps of a
press have no part in it: to them the lessons are gone, and `withdrawn.yaml` names the addresses that get a
note.
"""

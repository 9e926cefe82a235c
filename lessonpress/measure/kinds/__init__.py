"""One kind of measure a file: each says what is computed, in which words, and what it refuses.

| file | asks |
|---|---|
| tilt.py | lean of a line from the vertical |
| angle.py | inside angle at a mark |
| span.py | distance between two marks, shift of one |
| clock.py | direction as a clock time |
| turn.py | rotation about the vertical, from foreshortening |
| path.py | length of a mark's way |
| speed.py | a mark's speed at a frame |
| circle.py | the circle of a mark's way |
| balance.py | the centre of mass between the ankles |
| instead.py | how far a mark would have moved |
| tempo.py | backswing to downswing |
| difference.py | how two numbers differ, of one clip or of two |

A kind takes a scene and gives a number. Inputs that it adds (where in its streak a mark lies, how square a
line stood) are values of its own model: it puts nothing into the scene. `blur.py` has those of a speed.
"""

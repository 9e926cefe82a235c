"""Views of the other side, of the same swing or another: what one picture shows across is the other's depth.

| file | says |
|---|---|
| timing.py | how the times of the two clips are to each other |
| pairing.py | which places of the other clip show a mark at an instant of this one |
| rays.py | where two rays meet: two equations, two unknowns |
| planes.py | how the two subject planes lie to each other |
| crossed.py | the depth of a mark, by two clips that look across each other |
| view.py | the same swing filmed at once: whether a depth is better known than the posture's |
| like.py | another swing of the same golfer |
| swings.py | all other swings together, in place of the posture table |
| spread.py | how much one swing differs from the next |
| agreement.py | whether the two clips can show one swing at all |
"""

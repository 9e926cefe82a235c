"""A second view of the same swing: what one picture shows across is the other's depth.

| file | says |
|---|---|
| timing.py | how the times of the two clips are to each other |
| pairing.py | which places of the other clip show a mark at an instant of this one |
| rays.py | where two rays meet: two equations, two unknowns |
| planes.py | how the two subject planes lie to each other |
| view.py | the depth of a mark, and whether it is better known than the posture's |
| agreement.py | whether the two clips can show one swing at all |
"""

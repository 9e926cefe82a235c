"""Marks of the body suggested by a network that was taught to find people: questions, no measures.

| module | what it answers |
|---|---|
| `running` | the two networks, run on the processor |
| `square` | a square of a picture, and points between the two |
| `person` | where in a picture a person is |
| `looks` | the points of the body, as several looks at one picture show them |
| `sides` | which of the two is the lead side |
| `bodymarks` | the trade's marks from the network's points |
| `learnt` | what was learnt of its errors on film with known truth |
| `doubts` | what cannot be a body, or not this one |
| `runs` | what the pictures before and after contradict |
| `suggesting` | the suggestions of given pictures |
"""

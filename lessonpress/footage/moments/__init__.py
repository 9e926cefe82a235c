"""When in a film a swing does what: moments found, each with a ± of pictures. Proposals, no measures.

| module | what it answers |
|---|---|
| `heights` | how high the hands are over the hips, picture by picture |
| `ball` | the last picture with the ball at its place |
| `finding` | the moments of a swing from these and from how much changes |
| `film` | the moments of a clip's film, from all of these |
"""

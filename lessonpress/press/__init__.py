"""The press room: plans the jobs, keeps the cache, spreads the work and swaps the finished site in whole.

`run.press` is the way in. What it makes is built aside, in a sibling of the output folder, and takes the
folder's place by renaming when it is complete; until then the last good site stays.
"""

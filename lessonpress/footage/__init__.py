"""Video to pictures: index, pictures, camera motion, tracking, repeated frames.

Everywhere in this room: frames count from 0 in the order in which they are shown. A picture is what a
viewer shows: turned upright, pixels square, RGB uint8 of shape (height, width, 3). Points are (x, y) in px,
x right, y down, (0, 0) the outer corner of the first pixel, so that a pixel's centre lies at .5. OpenCV
counts centres; `halfpixel` is the one place that goes between. Times are seconds since frame 0 unless a name
says otherwise.

| module | what it answers |
|---|---|
| `opening` | which files are opened, and what is said of those that are not |
| `failure` | what is raised, with its way out |
| `index` | which pictures a file holds and when each is shown |
| `pictures` | the pictures of given frames, exactly |
| `upright` | how a stored picture is turned, mirrored and stretched |
| `colour` | stored colours to RGB |
| `fields` | interlaced pictures made whole |
| `contact` | a sheet of numbered pictures |
| `timecode` | SMPTE ST 12-1 |
| `halfpixel` | points to and from OpenCV |
| `motion` | how the camera moved |
| `hulls` | where the subject is, so that its motion is not taken for the camera's |
| `tracking` | a mark carried over frames |
| `patch` | what surrounds a mark, and where it is found again |
| `flow` | points carried from one picture to another |
| `frame_store` | grey pictures at hand in any order |
| `repeats` | pictures shown more than once |
| `times` | real seconds of each picture |
| `pose/` | marks of the body suggested by a network |
| `moments/` | when a swing does what |
| `difference` | how much changes from picture to picture, and the events that suggests |
"""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach_stub(__name__, __file__)

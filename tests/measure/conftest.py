"""Properties are tried the same way in every run, however busy the machine is."""

from hypothesis import settings

settings.register_profile("steady", deadline=None, derandomize=True)
settings.load_profile("steady")

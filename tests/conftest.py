"""Properties are judged by what they find, never by how busy the machine is."""

from hypothesis import settings

settings.register_profile("calm", deadline=None)
settings.load_profile("calm")

"""What the tests of the engine share: random tries are not timed, as a slow machine is no fault."""

from hypothesis import settings

settings.register_profile("untimed", deadline=None)
settings.load_profile("untimed")

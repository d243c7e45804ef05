"""Settings of the tests in this folder."""

from hypothesis import settings

# A loaded machine may take long over one example; that is no fault of the code under test.
settings.register_profile("published", deadline=None)
settings.load_profile("published")

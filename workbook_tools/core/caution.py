"""What every output that states a requirement says beside it."""

CAUTION = (
    "An aid to the officer's own check. The convention's official text, the flag Administration, class, the maker's "
    "manual and the master decide."
)

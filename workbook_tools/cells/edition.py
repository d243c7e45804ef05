"""The edition of the rules that a cell function answers for when it is not told a day: never today's date."""

from datetime import date

EDITION = date(2026, 11, 25)
"""The day asked where no option says on=...: the day on which the rule rows were last compared as a whole."""

RULES = "solas"
"""The rule set where no option says rules=..."""

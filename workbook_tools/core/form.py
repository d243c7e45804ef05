"""The Record of Equipment beside the rule and beside what is carried."""

BELOW_RULE = "form below rule"
BELOW_FORM = "carried below form"


def compare(figure: float, rule: float | None, carried_at_best: float | None) -> list[str]:
    """How a figure of the form (pieces, craft or persons) stands to the rule's and to the most that may be carried.

    None: no rule asks a number, or nothing is recorded; then that comparison is left out. Equal figures agree, and a
    form that lists more than the rule asks is no fault. Source: SOLAS I/12 and the forms of its appendix (from memory):
    the record lists what is fitted, and SOLAS III gives the least that it may list.

    >>> compare(8, 10, 7)
    ['form below rule', 'carried below form']
    """
    found = []
    if rule is not None and figure < rule:
        found.append(BELOW_RULE)
    if carried_at_best is not None and carried_at_best < figure:
        found.append(BELOW_FORM)
    return found

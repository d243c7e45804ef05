"""Numbers with their words, for every report, message and page. Standard library only."""


def counted(number: float, noun: str, plural: str = "") -> str:
    """A number with its noun; plural: where it is not the noun with an s.

    >>> counted(1, "book"), counted(1200, "book"), counted(4, "query", "queries")
    ('1 book', '1,200 books', '4 queries')
    """
    return f"{number:,} {noun if number == 1 else plural or noun + 's'}"

"""Where things stand on every sheet that has a table: rows counted from 0."""

TITLE_ROW, HELP_ROW, HEADING_ROW, FIRST_ROW = 0, 1, 2, 3

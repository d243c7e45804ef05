"""What to do next, worked out from the audit of a book: deadlines, orders, servicing, the muster list, rations."""

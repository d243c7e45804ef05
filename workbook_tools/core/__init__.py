"""The computations: scalar, pure, standard library only. Rule rows come in as arguments; nothing is read here."""

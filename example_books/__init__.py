"""An invented fleet: what lies on board each ship, stated by hand, and the builder that writes the books."""

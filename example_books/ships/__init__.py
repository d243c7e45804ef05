"""One module for each ship of the invented fleet. Each says what lies on board as somebody counted it there."""

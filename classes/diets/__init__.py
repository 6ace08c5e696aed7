"""Diet conflicts of a class: what was found, what was decided, and the alternatives."""

"""The hours of a class: its form, its plan, its pages, and what-if."""

"""The people of the house: who works here, in which roles, and how they come by a password."""

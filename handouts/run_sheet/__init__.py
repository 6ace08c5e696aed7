"""The run sheet: the hours of a class by the clock."""

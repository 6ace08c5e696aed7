"""Cautions, hazards, first aid, and notes about diet conflicts."""

"""Kitchens, their equipment, and their pantry."""

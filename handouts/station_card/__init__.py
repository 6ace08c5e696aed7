"""What stands on a station card: grams, steps, water, and the room they have."""

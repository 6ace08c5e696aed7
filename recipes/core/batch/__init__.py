"""What a batch comes to: its card, its losses, its pieces, cups and spoons, and nutrition."""

"""Class sessions, kitchens and people, and in `classes.core` the arithmetic behind them."""

"""Class sessions, kitchens and people, and in `classes.planning` the arithmetic behind them."""

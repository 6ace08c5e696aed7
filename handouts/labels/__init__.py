"""Labels for tubs and for what waits in the refrigerator."""

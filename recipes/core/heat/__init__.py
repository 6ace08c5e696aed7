"""Heat in dough, water and ovens: water temperature, heat balance, altitude, doneness."""

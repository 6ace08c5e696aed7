"""A recipe in a kitchen: water temperature and rising time."""

"""A recipe's exchange page: yeast forms, salts, eggs and flours."""

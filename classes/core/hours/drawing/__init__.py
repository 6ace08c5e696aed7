"""A plan drawn and tabulated for pages and papers."""

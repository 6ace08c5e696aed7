"""What `manage.py prepare` makes before the first start."""

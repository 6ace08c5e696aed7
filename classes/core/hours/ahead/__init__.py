"""What has to be done before the class, and when."""

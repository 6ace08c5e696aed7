"""What holds a class up, what would change that, and recovery when it runs late."""

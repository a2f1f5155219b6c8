"""The desktop application and its command line."""

"""What menus, keys and buttons do to a project."""

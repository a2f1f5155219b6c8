"""Icons, diagrams and texts of our own. No Python beyond this line."""

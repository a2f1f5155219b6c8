"""The table: the pieces drawn, panned, zoomed and picked."""

"""What a pattern is: edges, darts, notches, pieces, seams, sizes."""

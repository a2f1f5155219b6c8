"""Reading and writing drawings, and recognising pieces in them."""

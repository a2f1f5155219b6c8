"""Paper: packing pieces on a sheet, tiles, PDF."""

"""Standard drawings of any size, made as text: round pieces with every kind of mark."""

from __future__ import annotations

import math
from pathlib import Path

VERTICES, TURN_POINTS, CURVE_POINTS, NOTCHES = 300, 12, 40, 6


def write_nest(path: Path, *, pieces: int, sizes: int) -> Path:
    """A drawing of so many pieces in so many sizes, 300 vertices each, as a plain sender would write it."""
    blocks, inserts = [], []
    for piece in range(pieces):
        for size in range(sizes):
            name = f"PIECE{piece + 1}_{size + 1}"
            blocks.append(_block(name, f"piece {piece + 1}", str(size + 1), 100.0 + 3 * size + piece))
            inserts.append(f"0\nINSERT\n8\n1\n2\n{name}\n10\n0.0\n20\n0.0\n")
    style = (
        _text("1", "Units: METRIC", 0, 0) + _text("1", "Style Name: MADE", 0, 0) + _text("1", "Sample Size: 1", 0, 0)
    )
    sections = (("HEADER", ""), ("BLOCKS", "".join(blocks)), ("ENTITIES", "".join(inserts) + style))
    body = "".join(f"0\nSECTION\n2\n{name}\n{text}0\nENDSEC\n" for name, text in sections)
    path.write_text(f"{body}0\nEOF\n", encoding="ascii")
    return path


def _block(name: str, piece: str, size: str, radius: float) -> str:
    ring = [_on_ring(index, radius) for index in range(VERTICES)]
    vertices = "".join(f"0\nVERTEX\n8\n1\n10\n{x:.4f}\n20\n{y:.4f}\n" for x, y in ring)
    outline = f"0\nPOLYLINE\n8\n1\n66\n1\n70\n1\n{vertices}0\nSEQEND\n8\n1\n"
    turns = "".join(_point("2", *ring[index * VERTICES // TURN_POINTS]) for index in range(TURN_POINTS))
    curves = "".join(_point("3", *ring[(index * 7 + 3) % VERTICES]) for index in range(CURVE_POINTS))
    notches = "".join(_point("4", *ring[index * 50 + 11]) for index in range(NOTCHES))
    grain = f"0\nLINE\n8\n7\n10\n0.0\n20\n{-radius / 2:.4f}\n11\n0.0\n21\n{radius / 2:.4f}\n"
    words = (f"Piece Name: {piece}", f"Size: {size}", "Quantity: 2")
    content = outline + turns + curves + notches + grain + "".join(_text("1", line, 0, 0) for line in words)
    return f"0\nBLOCK\n8\n1\n2\n{name}\n70\n0\n10\n0.0\n20\n0.0\n{content}0\nENDBLK\n8\n1\n"


def _on_ring(index: int, radius: float) -> tuple[float, float]:
    """A rosette with a corner at every twelfth of the ring."""
    angle = math.tau * index / VERTICES
    wave = abs(math.sin(angle * TURN_POINTS / 2))
    return (radius * (1 + 0.1 * wave) * math.cos(angle), radius * (1 + 0.1 * wave) * math.sin(angle))


def _point(layer: str, x: float, y: float) -> str:
    return f"0\nPOINT\n8\n{layer}\n10\n{x:.4f}\n20\n{y:.4f}\n"


def _text(layer: str, words: str, x: float, y: float) -> str:
    return f"0\nTEXT\n8\n{layer}\n10\n{x:.4f}\n20\n{y:.4f}\n40\n5.0\n1\n{words}\n"

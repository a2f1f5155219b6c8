"""Draw what every symptom of the toile guide looks like: ``python -m samples.draw_toiles``.

A body and the clothes on it in the colour of the text; folds, gaps and edges that lie wrong in a colour of their own.
Folds are spindles that point at where they come from.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Final

import numpy as np

from geometry.fitting.toile_reading import SYMPTOMS
from geometry.fitting.toile_signs import Symptom
from samples.toile_views import (
    ARM,
    CLOTH,
    FORK,
    LEGS,
    MIDDLE,
    NECK,
    SIDE_PX,
    SIGN,
    SKIRT,
    UPPER,
    Clothes,
    Window,
    figure,
)

FOLDER: Final = Path(__file__).resolve().parents[1] / "resources" / "toile"

_LINE_PX, _FOLD_PX, _EDGE_PX = 1.5, 2.6, 2.2
_HEAD_PX = 6.0

Fold = tuple[float, float, float, float, float]
"""Start, end, and how far the middle bows to the right of the way there."""


@dataclass(frozen=True, slots=True)
class Scene:
    """What a drawing shows.

    Attributes:
        clothes: What is worn, seen from where.
        window: What part of it.
        folds: Folds of the right half, or of a side view.
        one: Folds that are not mirrored.
        edges: Paths of edges where they lie, in place of where they should.
        gaps: Closed paths of the air between cloth and body.
        level: A path of how it should lie, dotted.
        arrows: Where something moves to, from ... to.
        mirrored: Whether folds, edges, gaps and arrows are mirrored.
    """

    clothes: Clothes
    window: Window
    folds: tuple[Fold, ...] = ()
    one: tuple[Fold, ...] = ()
    edges: tuple[str, ...] = ()
    gaps: tuple[str, ...] = ()
    level: str = ""
    arrows: tuple[tuple[float, float, float, float], ...] = ()
    mirrored: bool = True


_F, _B, _S, _A = Clothes.FRONT, Clothes.BACK, Clothes.SIDE, Clothes.SLEEVE
_T, _TB = Clothes.TROUSERS, Clothes.TROUSERS_BACK

_UPPER_SCENES = {
    "neck-back-away": Scene(
        _S, NECK, edges=("M 2 104 C 14 106 24 102 33 99 C 41 112 43 132 42 154",),
        gaps=("M 17 100 L 33 99 C 40 110 42 130 42 150 C 40 130 30 112 17 100 Z",), arrows=((24, 92, 36, 88),),
    ),
    "neck-front-gapes": Scene(
        _F, NECK, folds=((6, 130, 8, 160, 1.5), (14, 122, 20, 152, 1.5)),
        edges=("M 0 130 C 5 122 8 132 12 124 C 16 118 22 116 17 103",), arrows=((5, 118, 5, 108),),
    ),
    "collar-sinks": Scene(
        _F, NECK, one=((-24, 106, 24, 106, 24), (-30, 108, 30, 108, 38), (-36, 111, 36, 111, 52)),
        edges=("M 0 122 C 9 122 15 112 14 98",), arrows=((27, 92, 27, 103),),
    ),
    "collar-low": Scene(
        _F, NECK, edges=("M 0 140 C 14 140 24 124 26 106",), level="M 0 126 C 10 126 16 116 17 103",
        arrows=((6, 128, 6, 138), (19, 112, 23, 118)),
    ),
    "square-shoulder": Scene(
        _F, UPPER, folds=((54, 120, 6, 146, 5), (52, 130, 6, 164, 6), (50, 142, 10, 180, 6)),
        edges=("M 60 116 L 20 96",), gaps=("M 60 116 L 20 96 L 17 103 Z",),
    ),
    "sloping-shoulder": Scene(
        _F, UPPER, folds=((18, 110, 51, 160, 4), (14, 124, 50, 172, 5), (12, 142, 50, 184, 5)),
        edges=("M 56 172 C 54 182 50 188 46 190",),
    ),
    "long-shoulder": Scene(
        _F, UPPER, folds=((68, 124, 22, 108, 3), (66, 132, 24, 116, 3)),
        edges=("M 60 116 C 66 117 70 120 71 124 C 64 138 60 160 58 172",), level="M 60 116 C 51 134 49 158 56 172",
        arrows=((64, 108, 78, 116),),
    ),
    "short-shoulder": Scene(
        _F, UPPER, folds=((58, 132, 74, 128, -2), (58, 146, 78, 144, -2)),
        edges=("M 47 112 C 44 130 46 156 56 172",), level="M 60 116 C 51 134 49 158 56 172",
        arrows=((86, 146, 80, 126),),
    ),
    "forward-shoulder": Scene(
        _A, UPPER, folds=((-12, 126, 6, 168, -4), (-14, 140, 2, 188, -4), (-15, 156, -2, 204, -3)),
        edges=("M 10 103 L 5 113",), arrows=((2, 92, 16, 92),), mirrored=False,
    ),
    "armhole-cuts": Scene(
        _F, UPPER, folds=((54, 166, 36, 152, 2), (55, 171, 33, 168, 2), (55, 176, 36, 186, -2), (58, 170, 74, 162, -2)),
        edges=("M 51 140 C 49 158 52 166 58 168",),
    ),
    "folds-beside-armhole": Scene(
        _S, UPPER, folds=((-20, 126, -20, 176, 2), (-27, 138, -27, 180, 2), (20, 126, 20, 180, -2),
        (28, 132, 28, 182, -2)), mirrored=False,
    ),
    "armhole-gapes": Scene(
        _F, UPPER, folds=((46, 150, 28, 184, -2),), edges=("M 60 116 C 44 130 38 150 56 172",),
        gaps=("M 60 116 C 44 130 38 150 56 172 C 49 158 51 134 60 116 Z",),
    ),
    "hollow-chest": Scene(
        _F, UPPER, one=((-40, 134, 40, 134, 12), (-42, 144, 42, 144, 13), (-40, 154, 40, 154, 13)),
    ),
    "narrow-chest": Scene(_F, UPPER, folds=((46, 126, 44, 168, 2), (39, 124, 38, 174, 2), (32, 126, 32, 166, 2))),
    "full-bust": Scene(
        _F, UPPER, folds=((28, 184, 52, 178, -2), (28, 190, 51, 194, 2), (26, 200, 30, 228, -2),
        (30, 178, 46, 156, -2)),
        one=((-24, 186, 24, 186, -3), (-24, 193, 24, 193, 3)), edges=("M 0 228 C 20 228 34 236 43 240",),
        level="M 0 240 L 43 240", arrows=((8, 246, 8, 234),),
    ),
    "small-bust": Scene(
        _F, UPPER, folds=((14, 180, 42, 180, 9), (12, 190, 44, 190, 12), (18, 206, 14, 234, -2), (36, 206, 36, 234, 2)),
    ),
    "dart-misses": Scene(
        _F, UPPER, edges=("M 52 200 L 37 211 L 50 212", "M 24 240 L 36 214 L 34 240",
        "M 21 187 L 31 187 M 26 182 L 26 192"),
    ),
    "front-sags": Scene(_F, UPPER, one=((-40, 200, 40, 200, 14), (-40, 211, 40, 211, 15), (-38, 222, 38, 222, 15))),
    "front-short": Scene(
        _F, UPPER, folds=((6, 224, 26, 192, 2), (18, 230, 32, 194, 2), (32, 234, 38, 200, 2)),
        edges=("M 0 224 C 18 224 32 234 43 240",), level="M 0 240 L 43 240", arrows=((0, 244, 0, 230),),
    ),
    "broad-back": Scene(
        _B, UPPER, one=((-49, 138, 49, 138, -4), (-48, 150, 48, 150, 0), (-48, 162, 48, 162, 4)),
        edges=("M 60 116 C 47 134 46 158 56 172",),
    ),
    "round-back": Scene(
        _S, UPPER, folds=((2, 176, 36, 138, -4), (4, 190, 38, 152, -4), (6, 206, 39, 168, -4)),
        edges=("M 42 164 C 43 190 42 214 44 244",),
        gaps=("M 42 166 C 43 190 42 214 44 244 L 22 244 C 26 214 38 192 42 166 Z",),
        mirrored=False,
    ),
    "erect-back": Scene(
        _B, UPPER,
        one=((-42, 178, 42, 178, 13), (-41, 190, 41, 190, 14), (-39, 202, 39, 202, 14), (-37, 214, 37, 214, 13)),
    ),
    "sway-back": Scene(
        _B, MIDDLE,
        one=((-40, 224, 40, 224, 7), (-40, 232, 40, 232, 8), (-42, 246, 42, 246, 8), (-45, 255, 45, 255, 8)),
    ),
}  # fmt: skip

_LOWER_SCENES = {
    "waist-off": Scene(
        _F, MIDDLE, one=((-42, 226, 42, 226, 6), (-42, 236, 42, 236, 7)),
        edges=("M 0 256 C 20 256 36 254 50 252",), level="M 0 240 L 43 240", arrows=((58, 236, 58, 250),),
    ),
    "waist-high": Scene(
        _F, MIDDLE, edges=("M 0 222 C 20 222 34 222 48 222",), level="M 0 240 L 43 240", arrows=((58, 240, 58, 226),),
        folds=((44, 228, 22, 232, 2),),
    ),
    "waist-loose": Scene(
        _F, MIDDLE, folds=((20, 222, 18, 250, 2), (32, 218, 32, 256, 2), (44, 226, 46, 262, 2)),
        edges=("M 52 200 C 54 224 56 238 57 248 C 60 264 68 282 72 306",),
        gaps=("M 50 206 C 54 226 56 238 57 248 C 60 264 66 282 70 300 "
        "C 64 280 52 262 43 240 C 46 226 48 216 50 206 Z",),
        arrows=((66, 232, 66, 246),),
    ),
    "waist-tight": Scene(
        _F, MIDDLE,
        folds=((42, 232, 18, 230, 1), (43, 238, 14, 238, 0), (44, 246, 18, 248, -1), (46, 254, 26, 258, -1)),
        one=((-12, 234, 12, 234, 0), (-12, 243, 12, 243, 0)),
    ),
    "abdomen": Scene(
        _S, SKIRT, folds=((-38, 286, -8, 258, 4), (-40, 300, -10, 272, 4)),
        edges=("M -41 290 C -46 320 -58 350 -66 380 C -30 388 20 398 56 400",), level="M -62 400 L 56 400",
        arrows=((-58, 404, -62, 386),), mirrored=False,
    ),
    "hip-narrow": Scene(
        _F, SKIRT, folds=((66, 300, 24, 296, 2), (67, 308, 20, 310, 0), (68, 316, 26, 322, -2)),
        one=((-40, 252, 40, 252, 5), (-42, 261, 42, 261, 6)), arrows=((84, 330, 80, 306),),
    ),
    "hip-high": Scene(
        _F, SKIRT, one=((-43, 247, 43, 247, 6), (-47, 256, 47, 256, 7), (-52, 266, 52, 266, 7)),
    ),
    "one-hip": Scene(
        _F, SKIRT, one=((62, 284, 6, 330, 6), (64, 294, 0, 350, 7), (58, 276, 12, 302, 5)),
        edges=("M -74 404 C -20 402 30 396 78 386",), level="M -76 400 L 76 400", arrows=((88, 398, 88, 384),),
        mirrored=False,
    ),
    "flat-seat": Scene(
        _S, SKIRT, folds=((40, 326, 4, 336, -5), (40, 338, 6, 350, -5), (44, 350, 8, 364, -5)),
        edges=("M -50 398 C -10 400 30 406 57 412",), level="M -50 400 L 60 400", arrows=((66, 394, 66, 410),),
        mirrored=False,
    ),
    "full-seat": Scene(
        _S, SKIRT, folds=((48, 304, 4, 298, -2), (48, 312, 4, 318, 2), (46, 296, 8, 270, -3)),
        edges=("M 49 308 C 54 336 62 358 66 380 C 30 392 -10 400 -50 400",), level="M -50 400 L 64 400",
        arrows=((60, 406, 64, 388),), mirrored=False,
    ),
    "hem-narrow": Scene(
        _F, SKIRT, one=((-72, 380, 72, 380, -5), (-72, 391, 72, 391, -2), (-70, 368, 70, 368, -7)),
        edges=("M 67 306 L 66 400",), level="M 67 306 L 76 400",
    ),
    "hem-uneven": Scene(
        _F, SKIRT, edges=("M -76 392 C -50 408 -30 386 0 398 C 30 410 50 388 76 406",), level="M -76 400 L 76 400",
        folds=((-46, 340, -50, 392, 2), (20, 346, 22, 396, -2), (52, 344, 58, 388, -2)), mirrored=False,
    ),
    "cap-short": Scene(
        _A, ARM, folds=((-3, 114, -14, 150, 2), (-2, 116, -12, 170, 3), (0, 114, 12, 150, -2), (-1, 116, 11, 170, -3)),
        mirrored=False,
    ),
    "upper-arm": Scene(
        _A, ARM,
        folds=((-16, 146, 15, 146, -3), (-16, 157, 16, 157, 0), (-16, 168, 16, 168, 3), (-17, 179, 16, 179, 4)),
        mirrored=False,
    ),
    "sleeve-pitch": Scene(
        _A, ARM, folds=((14, 140, -8, 182, -5), (15, 156, -10, 204, -6), (16, 176, -10, 226, -6)),
        arrows=((22, 232, 34, 222),), mirrored=False,
    ),
    "fork-upright": Scene(_T, FORK, folds=((5, 306, 6, 348, 2), (13, 310, 15, 364, 2), (22, 318, 24, 360, 2))),
    "fork-slanting": Scene(_T, FORK, folds=((4, 336, 60, 288, -5), (8, 346, 64, 304, -5), (4, 324, 54, 274, -4))),
    "seat-roping": Scene(
        _TB, FORK, folds=((2, 342, 26, 326, 3), (3, 346, 30, 342, 2), (4, 350, 26, 362, -2), (2, 330, 14, 312, 1)),
        edges=("M 0 252 C 14 252 30 244 43 240", "M 0 256 C 4 276 -4 296 2 316 C -2 330 0 340 0 344"),
        level="M 0 240 L 43 240", arrows=((10, 236, 10, 248),),
    ),
    "seat-surplus": Scene(_TB, FORK, folds=((8, 342, 60, 338, 9), (14, 354, 62, 350, 10), (18, 367, 64, 363, 10))),
    "back-rise": Scene(
        _TB, FORK, edges=("M 0 262 C 16 262 32 248 44 240",), level="M 0 240 L 43 240",
        folds=((4, 296, 34, 268, 3),), arrows=((0, 238, 0, 256),),
    ),
    "trouser-hip": Scene(
        _T, FORK, one=((-66, 294, 66, 294, -3), (-67, 303, 67, 303, 0), (-68, 312, 68, 312, 3)),
        folds=((66, 322, 20, 326, -1),),
    ),
    "leg-swings": Scene(
        _T, LEGS, folds=((62, 428, 30, 470, -6), (62, 442, 30, 492, -6), (62, 414, 28, 446, -5)),
        arrows=((70, 528, 84, 522),),
    ),
    "leg-open": Scene(
        _T, LEGS, folds=((8, 364, 44, 354, 8), (12, 378, 48, 370, 9), (15, 394, 50, 386, 9)),
        edges=("M 0 344 C 22 390 28 440 20 536",), arrows=((8, 500, 18, 500),),
    ),
}  # fmt: skip

SCENES: Final = _UPPER_SCENES | _LOWER_SCENES
"""What is drawn of each symptom, by its name."""


def drawing(symptom: Symptom) -> str:
    """A symptom as SVG text."""
    scene = SCENES[symptom.name]
    width = _LINE_PX / scene.window.scale
    rows = [
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {SIDE_PX:g} {SIDE_PX:g}"'
        ' stroke-linejoin="round" stroke-linecap="round">',
        f"<title>{symptom.looks}</title>",
        f'<g transform="{scene.window.transform}">',
        *figure(scene.clothes, width),
        *(_mirrored(_signs(scene)) if scene.mirrored and scene.clothes not in (_S, _A) else _signs(scene)),
        *(_spindle(fold, scene.window) for fold in scene.one),
    ]
    return "\n".join([*rows, "</g>", "</svg>", ""])


def _mirrored(rows: list[str]) -> list[str]:
    return [*rows, '<g transform="scale(-1 1)">', *rows, "</g>"]


def _signs(scene: Scene) -> list[str]:
    """Gaps, level lines, edges, folds and arrows, the lowest first."""
    px = 1 / scene.window.scale
    rows = [f'<path d="{gap}" fill="{SIGN}" fill-opacity="0.22" stroke="none"/>' for gap in scene.gaps]
    if scene.level:
        dots = f'stroke-width="{1.2 * px:.3g}" stroke-dasharray="{0.1 * px:.3g} {3.4 * px:.3g}"'
        rows.append(f'<path d="{scene.level}" fill="none" stroke="{CLOTH}" stroke-width="{2.2 * px:.3g}"/>')
        rows.append(f'<path d="{scene.level}" fill="none" stroke="{SIGN}" {dots}/>')
    edge = f'fill="none" stroke="{SIGN}" stroke-width="{_EDGE_PX * px:.3g}"'
    rows += [f'<path d="{path}" {edge}/>' for path in scene.edges]
    rows += [_spindle(fold, scene.window) for fold in scene.folds]
    thin = f'fill="none" stroke="{SIGN}" stroke-width="{1.6 * px:.3g}"'
    return rows + [f'<path d="{_arrow(arrow, px)}" {thin}/>' for arrow in scene.arrows]


def _spindle(fold: Fold, window: Window) -> str:
    """A fold: pointed at its ends, widest in the middle."""
    x0, y0, x1, y1, bow = fold
    way = np.array([x1 - x0, y1 - y0])
    right = np.array([-way[1], way[0]]) / np.hypot(*way)
    middle = np.array([x0 + x1, y0 + y1]) / 2
    half = _FOLD_PX / window.scale
    (ax, ay), (bx, by) = (middle + right * (2 * bow + side * half) for side in (-1, 1))
    path = f"M {x0:g} {y0:g} Q {ax:.2f} {ay:.2f} {x1:g} {y1:g} Q {bx:.2f} {by:.2f} {x0:g} {y0:g} Z"
    return f'<path d="{path}" fill="{SIGN}" stroke="{SIGN}" stroke-width="{0.5 / window.scale:.3g}"/>'


def _arrow(arrow: tuple[float, float, float, float], px: float) -> str:
    """A line with an open head."""
    x0, y0, x1, y1 = arrow
    way = np.array([x1 - x0, y1 - y0]) / np.hypot(x1 - x0, y1 - y0)
    across = np.array([-way[1], way[0]])
    tip = np.array([x1, y1])
    left, right = (tip - way * _HEAD_PX * px + side * across * _HEAD_PX * 0.55 * px for side in (1, -1))
    return (
        f"M {x0:g} {y0:g} L {x1:g} {y1:g} M {left[0]:.2f} {left[1]:.2f} L {x1:g} {y1:g} L {right[0]:.2f} {right[1]:.2f}"
    )


def main() -> None:
    """Write them all."""
    FOLDER.mkdir(exist_ok=True)
    for symptom in SYMPTOMS:
        (FOLDER / f"{symptom.name}.svg").write_text(drawing(symptom), "utf-8")


if __name__ == "__main__":
    main()

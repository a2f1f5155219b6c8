"""Every small number of the geometry, each with where it comes from.

No other file in ``geometry/`` holds a bare 1e-something.
"""

FLOAT_MM = 1e-9
"""Float noise: coordinates of some metres carry about 1e-12 mm; a thousand operations stay below this."""

SAME_POINT_MM = 1e-6
"""Two points closer than this are one: a tenth of the last digit a DXF written with five decimals keeps."""

DOUBLED_POINT_MM = 1e-3
"""A traced point this near its neighbour is a doubled click: a hundredth of the finest printed line."""

STRAIGHT_MM = 0.05
"""An edge whose points stay this near its chord is straight: half a hairline, less than a pencil can show."""

ON_EDGE_MM = 0.5
"""A mark this near an edge lies on it: a digitiser's cross-hair is read to about half a millimetre."""

WARN_MM = 1.5
"""1/16 in, the accuracy of a professional fitter (Threads, 10 patternwork skills, 2020)."""

STOP_MM = 3.0
"""1/8 in, the accuracy that suits many (same source): beyond it cloth would be wasted."""

RING_ROUNDS = 64
"""Cap on passes that drop retraced points from an outline; each pass removes at least two points."""

SAME_DIRECTION_RAD = 1e-9
"""Two directions closer than this are one: over a metre they part by a millionth of a millimetre."""

PARALLEL_RAD = 2e-3
"""Lines this near to parallel were meant so: a tenth of a degree, 1 mm over 50 cm."""

PARALLEL_MM = 0.02
"""How far a parallel may stray from the true one on the outside of a bend: less than half a hairline."""

ROUGH_MM = 0.015
"""An outline whose points shake by more was traced by hand: more than rounding to a hundredth of a millimetre gives."""

TRACE_STRAIGHT_MM = 0.2
"""A traced side whose course, its shake averaged out, stays this near a line was meant straight: half a pencil line."""

RETRACE_MM = 0.5
"""The furthest a traced point may lie from the clean outline: the reading of a digitiser's cross-hair."""

THINNED_MM = 0.04
"""Points that change a smoothed curve by less are left out: less than the shake that was in it."""

NOTABLE_MM = 0.5
"""A change smaller than the width of a pencil line is not worth a person's attention."""

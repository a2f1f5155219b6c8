"""The pages of the plan as SVG drawings, one file each, in millimetres.

Letters stay letters, so that they can be searched; where the font is missing, each line of words still gets its length.
"""

from __future__ import annotations

from pathlib import Path
from typing import Final
from xml.sax.saxutils import escape, quoteattr

from editor.atomic_file import write_whole
from editor.printing.job import Page, SheetPlan
from editor.printing.lettering import face
from editor.printing.pdf import Progress
from editor.printing.picture import Anchor, Drawing, Label, Stroke

_ANCHORS: Final = {Anchor.START: "start", Anchor.MIDDLE: "middle", Anchor.END: "end"}


def write_svg_pages(plan: SheetPlan, path: Path, *, progress: Progress | None = None) -> tuple[Path, ...]:
    """Writes a file for every page, "dress-01.svg", "dress-02-A1.svg" ... for "dress.svg".

    Args:
        plan: What to print.
        path: The names begin as this one does.
        progress: Called with pages done and pages in all; ``False`` from it stops the work.

    Returns:
        The files; none where it was stopped, and what was written of them is taken away again.

    Raises:
        PatternError: a file cannot be written; the sentence says why.
    """
    written: list[Path] = []
    digits = len(str(len(plan.pages)))
    for done, page in enumerate(plan.pages):
        if progress is not None and not progress(done, len(plan.pages)):
            for each in written:
                each.unlink(missing_ok=True)
            return ()
        label = f"-{page.label}" if page.label else ""
        file = path.with_name(f"{path.stem}-{page.number:0{digits}}{label}.svg")
        write_whole(file, svg_of(plan, page).encode())
        written.append(file)
    return tuple(written)


def svg_of(plan: SheetPlan, page: Page) -> str:
    """One page as a drawing."""
    sheet = plan.page
    (width, height), (across, up) = sheet.sent_mm, sheet.printed
    title = escape(" · ".join(filter(None, (plan.job.title, *plan.job.details, page.label))))
    clip = page.clip
    lines = [
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width:g}mm" height="{height:g}mm"'
        f' viewBox="0 0 {width:g} {height:g}">',
        f"<title>{title}</title>",
        f'<clipPath id="sheet"><rect x="{clip.x0:.3f}" y="{clip.y0:.3f}" width="{clip.width_mm:.3f}"'
        f' height="{clip.height_mm:.3f}"/></clipPath>',
        f'<g transform="matrix({1 / across:.8f} 0 0 {-1 / up:.8f} 0 {height:g})" fill="none" stroke-linejoin="round">',
        *_elements(page.furniture),
        '<g clip-path="url(#sheet)">',
    ]
    for name, part in plan.pattern_on(page).by_layer().items():
        lines += [f"<g id={quoteattr(name.lower().replace(' ', '-'))}>", *_elements(part), "</g>"]
    return "\n".join([*lines, "</g>", "</g>", "</svg>", ""])


def _elements(drawing: Drawing) -> list[str]:
    return [*map(_path, drawing.strokes), *(_text(label) for label in drawing.labels if label.text.strip())]


def _path(stroke: Stroke) -> str:
    style = stroke.style
    points = " ".join(f"{x:.3f},{y:.3f}" for x, y in stroke.points.tolist())
    shape = "polygon" if stroke.closed else "polyline"
    looks = f' fill="{_grey(style.fill_grey)}"' if style.fill_grey is not None else ""
    if style.weight_mm:
        looks += f' stroke="{_grey(style.grey)}" stroke-width="{style.weight_mm:g}"'
    if style.dash_mm:
        looks += f' stroke-dasharray="{" ".join(f"{dash:g}" for dash in style.dash_mm)}"'
    return f'<{shape} points="{points}"{looks}/>'


def _text(label: Label) -> str:
    text = face(label.bold).spelled(label.text)
    width = face(label.bold).width_mm(label.text, label.height_mm)
    weight = ' font-weight="bold"' if label.bold else ""
    turn = f" rotate({label.angle_deg:.3f})" if label.angle_deg else ""
    return (
        f'<text transform="translate({label.at[0]:.3f} {label.at[1]:.3f}){turn} scale(1 -1)"'
        f' font-family="DejaVu Sans Condensed, DejaVu Sans, sans-serif" font-size="{label.height_mm:g}"{weight}'
        f' text-anchor="{_ANCHORS[label.anchor]}" textLength="{width:.3f}" lengthAdjust="spacingAndGlyphs"'
        f' fill="{_grey(label.grey)}">{escape(text)}</text>'
    )


def _grey(share: float) -> str:
    level = round(255 * share)
    return f"#{level:02x}{level:02x}{level:02x}"

"""The table: a widget that shows the pieces of the session and takes mouse and keys for the tool in hand."""

from __future__ import annotations

from dataclasses import replace
from time import monotonic
from typing import Final

from PySide6.QtCore import QEvent, Qt, QTimer, Signal
from PySide6.QtGui import (
    QFocusEvent,
    QKeyEvent,
    QKeySequence,
    QMouseEvent,
    QNativeGestureEvent,
    QPainter,
    QPaintEvent,
    QPalette,
    QResizeEvent,
    QWheelEvent,
)
from PySide6.QtWidgets import QWidget

from editor.canvas.amount_field import AmountField
from editor.canvas.bench import Bench
from editor.canvas.compared_lines import ComparedLines, LaidOver
from editor.canvas.gestures import Gestures, key_of
from editor.canvas.note_marks import NoteMarks
from editor.canvas.picture import Moment, Picture
from editor.canvas.pointer import Key
from editor.canvas.size_lines import SizeLines
from editor.canvas.viewport import Box, Viewport, fitted
from editor.session import Session
from geometry.affine import Point

_STEP_PX: Final = 60.0
_ZOOM_STEP: Final = 1.25
_ARROWS: Final = {"left": (1, 0), "right": (-1, 0), "up": (0, 1), "down": (0, -1)}
_AMOUNT_CHARS: Final = "0123456789.,-−½¼¾⅛⅜⅝⅞"
_RING_S: Final = 1.4
_FRAME_MS: Final = 16
_SETTLED_MS: Final = 90
_BY_KEY: Final = (Qt.FocusReason.TabFocusReason, Qt.FocusReason.BacktabFocusReason, Qt.FocusReason.ShortcutFocusReason)
_IN_PASSING: Final = (Qt.FocusReason.ActiveWindowFocusReason, Qt.FocusReason.PopupFocusReason)


class Table(QWidget):
    """Pieces as sheets of paper.

    Signals:
        hint_changed: what can be done next, or why something was refused, in one sentence.
        tool_changed: another tool is in hand; its name.
        looked: the person zoomed or moved the table.
    """

    hint_changed = Signal(str)
    tool_changed = Signal(str)
    looked = Signal()

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self._bench = Bench(session, self)
        self._gestures = Gestures(self, self._bench)
        self._view = Viewport()
        self._keeps_fitting, self._shows_focus = True, False
        self._picture = Picture(self.palette().color(QPalette.ColorRole.Window), self.font())
        self._ring: tuple[Point, float] | None = None
        self._sizes, self._compared, self.notes = SizeLines(session), ComparedLines(), NoteMarks(session, self)
        self._field = AmountField(self)
        self._amount_before = 0.0
        self._sharpen = QTimer(self, singleShot=True, interval=_SETTLED_MS)
        self._fade = QTimer(self, interval=_FRAME_MS)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMouseTracking(True)
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)
        self.setAccessibleName("Table with the pattern pieces")
        self.setMinimumSize(240, 200)
        self._connect()

    def _connect(self) -> None:
        bench, session = self._bench, self._session
        bench.changed.connect(self._see)
        bench.laid_out.connect(self.fit_all)
        bench.hint_changed.connect(self.hint_changed)
        bench.hint_changed.connect(self.setAccessibleDescription)
        bench.tool_changed.connect(self.tool_changed)
        session.project_changed.connect(self.cancel)
        self._field.typed.connect(bench.set_amount)
        self._field.refused.connect(self.hint_changed)
        self._field.done.connect(self._amount_done)
        self._field.dropped.connect(self._amount_dropped)
        self._sharpen.timeout.connect(self._picture.sharpen)
        self._sharpen.timeout.connect(self.update)
        self._fade.timeout.connect(self._fade_ring)

    # -- what others ask for

    @property
    def viewport(self) -> Viewport:
        """Where the table is seen from."""
        return self._view

    @property
    def bench(self) -> Bench:
        """The tool in hand and what lies on the table."""
        return self._bench

    @property
    def hint(self) -> str:
        """What can be done next."""
        return self._bench.preview.hint

    def set_tool(self, name: str) -> None:
        """Take a tool in hand: "select", "slash" or "measure"; what was begun is dropped."""
        self.cancel()
        self._bench.set_tool(name)

    def cancel(self) -> bool:
        """Drop whatever is begun and leave everything as it was; whether there was anything."""
        busy = self._gestures.is_holding or not self._field.isHidden()
        self._gestures.drop()
        self._close_field()
        return self._bench.cancel() or busy

    def fit_all(self) -> None:
        """Show every sheet, as large as fits, and go on doing so while the widget changes its size."""
        self._fit(self._bench.sheets.box())
        self._keeps_fitting = True

    def show_piece(self, *pieces: str) -> None:
        """Bring a piece into view, or several together, as large as fits."""
        if pieces and self._bench.sheets.scene.sheets.keys() >= set(pieces):
            self._fit(self._bench.sheets.box(pieces))
            self._keeps_fitting = False

    def show_place(self, piece: str, place: Point) -> None:
        """Bring a place of a piece into the middle and ring it for a moment."""
        sheet = self._bench.sheets.scene.sheets.get(piece)
        if sheet is None:
            return
        at = sheet.to_table(place)
        closer = replace(self._view, px_per_mm=max(self._view.px_per_mm, 1.0))
        self._look(closer.centred_on(at, self.width(), self.height()))
        self._picture.sharpen()
        self._ring = (at, monotonic())
        self._fade.start()

    def zoom_by(self, factor: float) -> None:
        """Magnify about the middle."""
        self.zoom(factor, (self.width() / 2, self.height() / 2))

    @property
    def shows_sizes(self) -> bool:
        """Whether the other sizes lie over the sheets."""
        return self._sizes.is_shown

    def show_sizes(self, shown: bool) -> None:
        """Lay the outlines of the other sizes, as bought, over the sheets."""
        self._sizes.is_shown = shown
        self.update()

    def lay_over(self, laid: tuple[LaidOver, ...]) -> None:
        """Lay another toile over the sheets, or with no piece of it take it away."""
        self._compared.laid = laid
        self.update()

    def pan(self, dx_px: float, dy_px: float) -> None:
        """Pull the table."""
        self._look(self._view.panned(round(dx_px), round(dy_px)))
        self.looked.emit()

    def zoom(self, factor: float, at_px: Point) -> None:
        """Magnify about a pixel."""
        self._look(self._view.zoomed(factor, at_px))
        self.looked.emit()

    # -- the view

    def _look(self, view: Viewport) -> None:
        self._view = view
        self._keeps_fitting = False
        self._place_field()
        self.update()

    def _fit(self, box: Box | None) -> None:
        if box is not None and self.width() > 0:
            self._look(fitted(box, self.width(), self.height()))
            self._picture.sharpen()

    def _see(self) -> None:
        self._show_cursor()
        self.update()

    def _fade_ring(self) -> None:
        if self._ring is None or monotonic() - self._ring[1] > _RING_S:
            self._ring = None
            self._fade.stop()
        self.update()

    def _moment(self) -> Moment:
        bench, session = self._bench, self._session
        ring = (self._ring[0], max(1.0 - (monotonic() - self._ring[1]) / _RING_S, 0.0)) if self._ring else None
        return Moment(
            bench.sheets,
            self._view,
            bench.preview,
            tried=bench.tried,
            cuts=bench.tried_cuts,
            carried=bench.carried,
            record=session.selection.record,
            unit=session.unit,
            ring=ring,
            has_focus=self._shows_focus and self.hasFocus(),
            over=(self._sizes, self._compared, self.notes),
        )

    def _show_cursor(self) -> None:
        if self._gestures.is_panning:
            self.setCursor(Qt.CursorShape.ClosedHandCursor)
        elif self._bench.tool.name == "select" or self._bench.tool.amount_mm is not None:
            self.setCursor(Qt.CursorShape.ArrowCursor)
        else:
            self.setCursor(Qt.CursorShape.CrossCursor)

    # -- the amount

    def _open_field(self, text: str) -> None:
        self._amount_before = self._bench.tool.amount_mm or 0.0
        self._place_field()
        self._field.begin(text, self._session.unit)

    def _place_field(self) -> None:
        readout = self._bench.preview.readout
        if readout is not None:
            x, y = self._view.to_px(readout.at)
            right, bottom = self.width() - self._field.width() - 8, self.height() - self._field.sizeHint().height() - 8
            self._field.move(int(min(max(x + 20, 8), right)), int(min(max(y + 14, 8), bottom)))

    def _close_field(self) -> None:
        if not self._field.isHidden():
            had_keys = self._field.hasFocus()
            self._field.hide()
            if had_keys:
                self.setFocus(Qt.FocusReason.OtherFocusReason)

    def _amount_done(self) -> None:
        self._close_field()
        self._bench.key(Key("enter"))

    def _amount_dropped(self) -> None:
        self._bench.set_amount(self._amount_before)
        self._close_field()

    # -- keys

    def _key(self, key: Key) -> bool:
        """A key for the field, the tool or the table, in this order; whether one of them used it."""
        if self._takes_amount(key):
            self._open_field(key.name)
            return True
        return self._bench.key(key) or self._table_key(key)

    def _takes_amount(self, key: Key) -> bool:
        return self._bench.tool.amount_mm is not None and key.name in _AMOUNT_CHARS

    def _table_key(self, key: Key) -> bool:
        selection = self._session.selection
        if key.name in _ARROWS:
            dx, dy = _ARROWS[key.name]
            self.pan(dx * _STEP_PX, dy * _STEP_PX)
        elif key.name in ("+", "="):
            self.zoom_by(_ZOOM_STEP)
        elif key.name in ("-", "−"):
            self.zoom_by(1 / _ZOOM_STEP)
        elif key.name == "0":
            self.fit_all()
        elif key.name == "f" and selection.piece:
            self.show_piece(selection.piece)
        elif key.name == "enter" and selection.record:
            return self._bench.reopen(selection.record)
        elif key.name == "escape":
            return self.cancel() or self._unselect()
        else:
            return False
        return True

    def _unselect(self) -> bool:
        selection = self._session.selection
        self._session.select()
        return self._session.selection != selection

    def _is_wanted(self, event: QKeyEvent) -> bool:
        """Whether a key must come here and not to a shortcut of the window."""
        tool = self._bench.tool
        if tool.holds_change and event.matches(QKeySequence.StandardKey.Undo):
            return True
        key = key_of(event)
        if key is None:
            return False
        return self._takes_amount(key) or key.name in tool.letters or (tool.is_busy and key.name == "escape")

    def focusNextPrevChild(self, forward: bool) -> bool:
        """Tab goes from piece to piece, and past the last one on to the next part of the window."""
        pattern = self._session.pattern
        names = [piece.name for piece in pattern.pieces] if pattern else []
        selected = self._session.selection.piece
        here = names.index(selected) if selected in names else (-1 if forward else len(names))
        there = here + (1 if forward else -1)
        if self._bench.tool.is_busy or not 0 <= there < len(names):
            return super().focusNextPrevChild(forward)
        self._shows_focus = True
        self._session.select(piece=names[there])
        return True

    # -- Qt's own events

    def event(self, event: QEvent) -> bool:
        """Keys that a tool is waiting for do not go to shortcuts; a pinch zooms."""
        if event.type() == QEvent.Type.ShortcutOverride and isinstance(event, QKeyEvent) and self._is_wanted(event):
            event.accept()
            return True
        if isinstance(event, QNativeGestureEvent) and self._gestures.pinch(event):
            return True
        return super().event(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Keys for the tool and the table."""
        if event.key() == Qt.Key.Key_Space:
            self._gestures.space(event, down=True)
            self._show_cursor()
        elif self._bench.tool.holds_change and event.matches(QKeySequence.StandardKey.Undo):
            self.cancel()
        else:
            key = key_of(event)
            if key is None or not self._key(key):
                super().keyPressEvent(event)

    def keyReleaseEvent(self, event: QKeyEvent) -> None:
        """The space bar ends its pan."""
        if event.key() == Qt.Key.Key_Space:
            self._gestures.space(event, down=False)
            self._show_cursor()
        else:
            super().keyReleaseEvent(event)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """A button goes down."""
        self._shows_focus = False
        self._gestures.press(event)
        self._show_cursor()

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        """The second press of a double click."""
        self._gestures.press(event, clicks=2)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """The mouse moves."""
        self._gestures.move(event)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """A button comes up."""
        self._gestures.release(event)
        self._show_cursor()

    def wheelEvent(self, event: QWheelEvent) -> None:
        """The wheel zooms."""
        self._gestures.wheel(event)

    def focusInEvent(self, event: QFocusEvent) -> None:
        """The keyboard comes here; shown, if it came by key."""
        self._shows_focus = event.reason() in _BY_KEY
        super().focusInEvent(event)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """What was begun is dropped, unless only a menu opens or another program comes to the front."""
        self._gestures.forget_keys()
        if self._field.isHidden() and (self._gestures.is_holding or event.reason() not in _IN_PASSING):
            self.cancel()
        super().focusOutEvent(event)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """A fitted view stays fitted; otherwise the middle stays in the middle."""
        if self._keeps_fitting:
            self.fit_all()
        elif event.oldSize().isValid():
            grown = event.size() - event.oldSize()
            self._look(self._view.panned(round(grown.width() / 2), round(grown.height() / 2)))

    def changeEvent(self, event: QEvent) -> None:
        """Light and dark follow the window."""
        if event.type() in (QEvent.Type.PaletteChange, QEvent.Type.FontChange):
            self._picture.follow(self.palette().color(QPalette.ColorRole.Window), self.font())
        super().changeEvent(event)

    def paintEvent(self, event: QPaintEvent) -> None:
        """The sheets, what the tool shows, the scale."""
        with QPainter(self) as painter:
            moment, ratio = self._moment(), self.devicePixelRatioF()
            self._picture.paint(painter, moment, self.size(), ratio, later=self._sharpen.start)

"""Raw mouse, wheel and key events become presses, drags, pans and zooms, one at a time."""

from __future__ import annotations

from enum import Enum
from typing import Protocol

from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QInputDevice, QKeyEvent, QMouseEvent, QNativeGestureEvent, QWheelEvent

from editor.canvas.pointer import Key, Pointer
from editor.canvas.viewport import Viewport
from geometry.affine import Point

TWITCH_PX = 4.0
"""A press that moves less than this is a click."""

ZOOM_PER_NOTCH = 1.2
"""What one notch of the wheel magnifies by."""

_NOTCH = 120.0
"""Eighths of a degree in a notch of the wheel, as Qt counts them."""


class Sight(Protocol):
    """Whose view is panned and zoomed."""

    @property
    def viewport(self) -> Viewport:
        """Where the table is seen from."""

    def pan(self, dx_px: float, dy_px: float) -> None:
        """Pull the table."""

    def zoom(self, factor: float, at_px: Point) -> None:
        """Magnify about a pixel."""


class Hand(Protocol):
    """Who the pointer works for."""

    def pressed(self, pointer: Pointer) -> None:
        """The first button went down."""

    def dragged(self, pointer: Pointer) -> None:
        """The mouse moved with it held."""

    def released(self, pointer: Pointer) -> None:
        """It came up."""

    def hovered(self, pointer: Pointer) -> None:
        """The mouse moved with nothing held."""


class _Held(Enum):
    NOTHING = "nothing"
    PRESSED = "pressed"
    DRAGGED = "dragged"
    PAN = "pan"
    DROPPED = "dropped"


class Gestures:
    """One gesture at a time: what is begun with a button ends with it, or is dropped."""

    def __init__(self, sight: Sight, hand: Hand) -> None:
        self._sight, self._hand = sight, hand
        self._held = _Held.NOTHING
        self._from = QPointF()
        self._space = False

    @property
    def is_holding(self) -> bool:
        """Whether a button is down that a tool has to do with."""
        return self._held in (_Held.PRESSED, _Held.DRAGGED)

    @property
    def is_panning(self) -> bool:
        """Whether the table is being pulled, or would be by a press."""
        return self._held is _Held.PAN or self._space

    def drop(self) -> None:
        """Take no more notice of the button that is down."""
        if self.is_holding:
            self._held = _Held.DROPPED

    def forget_keys(self) -> None:
        """The keyboard went elsewhere: its releases will not come."""
        self._space = False

    def press(self, event: QMouseEvent, *, clicks: int = 1) -> None:
        """A button goes down."""
        if self._held is not _Held.NOTHING:
            return
        left, middle = Qt.MouseButton.LeftButton, Qt.MouseButton.MiddleButton
        self._from = event.position()
        if event.button() == middle or (event.button() == left and self._space):
            self._held = _Held.PAN
        elif event.button() == left:
            self._held = _Held.PRESSED
            self._hand.pressed(self._pointer(event, clicks))

    def move(self, event: QMouseEvent) -> None:
        """The mouse moves."""
        if self._held is _Held.PAN:
            by = event.position() - self._from
            self._from = event.position()
            self._sight.pan(by.x(), by.y())
        elif self._held is _Held.NOTHING:
            self._hand.hovered(self._pointer(event))
        elif self._held is _Held.DRAGGED or (self._held is _Held.PRESSED and self._is_far(event)):
            self._held = _Held.DRAGGED
            self._hand.dragged(self._pointer(event))

    def release(self, event: QMouseEvent) -> None:
        """A button comes up."""
        left, middle = Qt.MouseButton.LeftButton, Qt.MouseButton.MiddleButton
        if event.button() not in (left, middle):
            return
        held = self._held
        if held is _Held.PAN or event.button() == left:
            self._held = _Held.NOTHING
        if held in (_Held.PRESSED, _Held.DRAGGED) and event.button() == left:
            self._hand.released(self._pointer(event))

    def space(self, event: QKeyEvent, *, down: bool) -> None:
        """The space bar turns a drag into a pan."""
        if not event.isAutoRepeat():
            self._space = down

    def wheel(self, event: QWheelEvent) -> None:
        """A wheel zooms about the pointer; two fingers on a touch pad pan, with Ctrl they zoom."""
        ctrl = bool(event.modifiers() & Qt.KeyboardModifier.ControlModifier)
        if _is_touch_pad(event) and not ctrl:
            by = event.pixelDelta() if not event.pixelDelta().isNull() else event.angleDelta() / 3
            self._sight.pan(by.x(), by.y())
        elif event.angleDelta().y():
            at = event.position()
            self._sight.zoom(ZOOM_PER_NOTCH ** (event.angleDelta().y() / _NOTCH), (at.x(), at.y()))

    def pinch(self, event: QNativeGestureEvent) -> bool:
        """Two fingers spread on a touch pad zoom; whether the event was one of these."""
        if event.gestureType() != Qt.NativeGestureType.ZoomNativeGesture:
            return False
        self._sight.zoom(1.0 + event.value(), (event.position().x(), event.position().y()))
        return True

    def _is_far(self, event: QMouseEvent) -> bool:
        by = event.position() - self._from
        return by.manhattanLength() >= TWITCH_PX

    def _pointer(self, event: QMouseEvent, clicks: int = 1) -> Pointer:
        viewport = self._sight.viewport
        at = event.position()
        return Pointer(
            viewport.to_mm((at.x(), at.y())),
            viewport.px_per_mm,
            shift=bool(event.modifiers() & Qt.KeyboardModifier.ShiftModifier),
            ctrl=bool(event.modifiers() & Qt.KeyboardModifier.ControlModifier),
            clicks=clicks,
        )


_NAMED_KEYS = {
    Qt.Key.Key_Return: "enter",
    Qt.Key.Key_Enter: "enter",
    Qt.Key.Key_Escape: "escape",
    Qt.Key.Key_Backspace: "backspace",
    Qt.Key.Key_Left: "left",
    Qt.Key.Key_Right: "right",
    Qt.Key.Key_Up: "up",
    Qt.Key.Key_Down: "down",
}


def key_of(event: QKeyEvent) -> Key | None:
    """A key for a tool; ``None`` for one that belongs to the desktop (with Ctrl or Alt) or says nothing to tools."""
    other = Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.AltModifier | Qt.KeyboardModifier.MetaModifier
    if event.modifiers() & other:
        return None
    name = _NAMED_KEYS.get(Qt.Key(event.key())) or event.text().lower()
    return Key(name, bool(event.modifiers() & Qt.KeyboardModifier.ShiftModifier)) if name.strip() else None


def _is_touch_pad(event: QWheelEvent) -> bool:
    return event.pointingDevice().type() == QInputDevice.DeviceType.TouchPad

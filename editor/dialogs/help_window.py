"""The help in a window beside the main one: chapters, every key, and every alteration, found by words."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import QEvent, QObject, Qt, QUrl
from PySide6.QtGui import QKeyEvent, QTextDocument
from PySide6.QtWidgets import (
    QDialog,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QListWidget,
    QListWidgetItem,
    QTextBrowser,
    QVBoxLayout,
    QWidget,
)

from editor.commands.registry import Desk
from editor.dialogs.help_text import Chapter, alterations, chapters, entry_page
from editor.panels.diagram import diagram
from editor.text import counted
from geometry.alterations.handbook.entry import Entry
from geometry.alterations.handbook.registry import entry_of

_SUBJECT: Final = Qt.ItemDataRole.UserRole
_DRAWING_PX: Final = 420
_LIST_PX: Final = 290
_MARGIN_PX: Final = 24


class HelpWindow(QDialog):
    """A list of subjects that what is typed makes shorter, and the page of the one picked."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._chapters = chapters()
        self.setWindowTitle("Help")
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.resize(980, 720)
        self.field = QLineEdit()
        self.field.setPlaceholderText("What to look for: slash, gapes, inches…")
        self.field.setAccessibleName("Look for in the help")
        self.field.setToolTip("Words that occur in a chapter or an alteration; the arrow keys go through what is found")
        self.field.setClearButtonEnabled(True)
        self.list = QListWidget()
        self.list.setAccessibleName("Subjects")
        self.list.setObjectName("subjects")
        self.list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.page = QTextBrowser()
        self.page.setAccessibleName("Page of the help")
        self.page.setObjectName("page")
        self.page.setOpenLinks(False)
        self.page.setFrameShape(QTextBrowser.Shape.NoFrame)
        self.page.document().setDocumentMargin(_MARGIN_PX)
        self.count = QLabel()
        self.count.setObjectName("faint")
        self._lay_out()
        self.field.textChanged.connect(self._find)
        self.field.installEventFilter(self)
        self.list.currentItemChanged.connect(self._turn)
        self.page.anchorClicked.connect(self._follow)
        desk.look.changed.connect(self._renew)
        desk.session.unit_changed.connect(self._renew)
        self._renew()
        self._find()

    def show_subject(self, title: str) -> None:
        """Turn to a chapter by its title, or to an alteration by its code."""
        self.field.clear()
        for at in range(self.list.count()):
            subject = self.list.item(at).data(_SUBJECT)
            if title in (getattr(subject, "title", None), getattr(subject, "code", None)):
                self.list.setCurrentRow(at)
                self.list.scrollToItem(self.list.item(at))

    def eventFilter(self, _: QObject, event: QEvent) -> bool:
        """From the field the arrow keys go through the list."""
        if isinstance(event, QKeyEvent) and event.type() == QEvent.Type.KeyPress:
            step = {Qt.Key.Key_Down: 1, Qt.Key.Key_Up: -1}.get(Qt.Key(event.key()))
            if step is not None:
                self._step(step)
                return True
        return False

    def _lay_out(self) -> None:
        side = QWidget()
        side.setObjectName("side")
        side.setFixedWidth(_LIST_PX)
        left = QVBoxLayout(side)
        left.setContentsMargins(12, 12, 8, 8)
        left.setSpacing(7)
        for widget in (self.field, self.count, self.list):
            left.addWidget(widget)
        whole = QHBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.setSpacing(0)
        whole.addWidget(side)
        whole.addWidget(self.page, 1)

    def _renew(self) -> None:
        """Another light, or another unit: the same page anew."""
        look = self._desk.look
        ink, soft, accent, line = (look.colour(name).name() for name in ("ink", "soft", "accent", "line"))
        self.page.document().setDefaultStyleSheet(
            f"body {{ color: {ink}; }} a {{ color: {accent}; }} .soft {{ color: {soft}; }} th {{ color: {soft}; }}"
            f" h2 {{ color: {ink}; }} h3 {{ color: {accent}; }} .caution {{ color: {look.colour('warn').name()}; }}"
            f" hr {{ color: {line}; }}"
        )
        self._turn(self.list.currentItem())

    def _find(self) -> None:
        words = self.field.text()
        pages = [page for page in self._chapters if page.has(words)]
        entries = alterations(words)
        self.list.blockSignals(True)
        self.list.clear()
        for page in pages:
            self._add(page.title, page)
        region = ""
        for entry in entries:
            if not words.strip() and entry.region.value != region:
                region = entry.region.value
                self._add_heading(region)
            self._add(entry.name, entry)
        self.list.blockSignals(False)
        found = f"{counted(len(pages), 'chapter', 'chapters')}, {counted(len(entries), 'alteration', 'alterations')}"
        told = found if pages or entries else "Nothing has these words."
        self.count.setText(told)
        self.list.setCurrentRow(0)

    def _add(self, title: str, subject: Chapter | Entry) -> None:
        item = QListWidgetItem(title, self.list)
        item.setData(_SUBJECT, subject)
        if isinstance(subject, Chapter):
            font = item.font()
            font.setBold(True)
            item.setFont(font)

    def _add_heading(self, region: str) -> None:
        item = QListWidgetItem(f"{region[:1].upper()}{region[1:]}", self.list)
        item.setFlags(Qt.ItemFlag.NoItemFlags)
        item.setForeground(self._desk.look.colour("soft"))

    def _step(self, by: int) -> None:
        at = self.list.currentRow() + by
        while 0 <= at < self.list.count() and self.list.item(at).data(_SUBJECT) is None:
            at += by
        if 0 <= at < self.list.count():
            self.list.setCurrentRow(at)

    def _turn(self, item: QListWidgetItem | None) -> None:
        subject = item.data(_SUBJECT) if item is not None else None
        if isinstance(subject, Entry):
            session, ink = self._desk.session, self._desk.look.colour("ink").name()
            drawing = diagram(subject.code, ink, _DRAWING_PX, self.devicePixelRatioF())
            self.page.document().addResource(QTextDocument.ResourceType.ImageResource, QUrl("drawing"), drawing)
            self.page.setHtml(entry_page(subject, session.unit, can_open=session.project is not None))
        elif isinstance(subject, Chapter) and subject.is_html:
            self.page.setHtml(f"<h2>{subject.title}</h2>{subject.text}")
        elif isinstance(subject, Chapter):
            self.page.setMarkdown(f"## {subject.title}\n\n{subject.text}")

    def _follow(self, link: QUrl) -> None:
        if link.scheme() == "entry":
            self.show_subject(link.path())
        elif link.scheme() == "open":
            self._desk.show_handbook(entry_of(link.path()).code)

"""Which pieces are printed, how often, mirrored, or whole instead of on the fold."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from types import MappingProxyType

from editor.printing import wording
from editor.printing.compose import piece_picture
from editor.printing.picture import PiecePicture
from editor.printing.piece_label import Ticket
from geometry.affine import Affine, Points
from geometry.alterations.chalk import RecordedCut
from geometry.alterations.lengthen_lines import lengthen_lines
from geometry.alterations.single_pieces import CutSingle, mirrored
from geometry.errors import MissingPartError, PatternError
from geometry.model.marks import InnerLine
from geometry.model.pattern import Pattern
from geometry.model.piece import Piece


@dataclass(frozen=True, slots=True)
class Choice:
    """How one piece is printed.

    Attributes:
        copies: How often; 0 leaves it out.
        pair: Whether a mirrored one comes with every copy.
        whole: Whether a piece on the fold is printed opened.
        group: Pieces of one group lie together; "" belongs to none.
    """

    copies: int = 1
    pair: bool = False
    whole: bool = False
    group: str = ""


AS_IT_IS = Choice()


@dataclass(frozen=True, slots=True)
class Subject:
    """What is printed.

    Attributes:
        pattern: The pattern as altered.
        ticket: For whom, which round, when.
        cuts: The cuts of the round, as they run on the pieces now; empty where they are not wanted.
        others: The pattern in further sizes, to be drawn on the same pieces.
    """

    pattern: Pattern
    ticket: Ticket
    cuts: tuple[RecordedCut, ...] = ()
    others: tuple[Pattern, ...] = ()


def pictures_of(subject: Subject, choices: Mapping[str, Choice] = MappingProxyType({})) -> tuple[PiecePicture, ...]:
    """Every piece as it is printed; a piece without a choice is printed once, as it is.

    Raises:
        PatternError: a choice for a piece that is not there, or nothing is left to print.
    """
    _refuse_unknown(subject.pattern, choices)
    lengthen = lengthen_lines(subject.pattern)
    drawn = [
        picture
        for piece in subject.pattern.pieces
        for picture in _drawn(_Sheet.of(subject, piece, lengthen), choices.get(piece.name, AS_IT_IS), subject.ticket)
    ]
    if not drawn:
        raise PatternError("There is no piece to print; choose at least one.", code="nothing-to-print")
    return tuple(drawn)


def _refuse_unknown(pattern: Pattern, choices: Iterable[str]) -> None:
    known = [piece.name for piece in pattern.pieces]
    for name in choices:
        if name not in known:
            raise PatternError(
                f'There is no piece called "{name}" to print; the pattern has {", ".join(known) or "none"}.',
                code="no-such-piece",
            )


@dataclass(frozen=True, slots=True)
class _Sheet:
    """A piece with the lines that are drawn on it and the same piece in further sizes."""

    piece: Piece
    chalk: tuple[Points, ...] = ()
    lengthen: tuple[Points, ...] = ()
    others: tuple[Piece, ...] = ()

    @staticmethod
    def of(subject: Subject, piece: Piece, lengthen: Mapping[str, tuple[Points, ...]]) -> _Sheet:
        chalk = tuple(cut.points for cut in subject.cuts if cut.piece == piece.name)
        others = tuple(other for pattern in subject.others if (other := _in(pattern, piece.name)))
        return _Sheet(piece, chalk, lengthen.get(piece.name, ()), others)

    def picture(self, ticket: Ticket) -> PiecePicture:
        return piece_picture(self.piece, ticket, chalk=self.chalk, lengthen=self.lengthen, others=self.others)

    def opened(self) -> _Sheet:
        """The whole piece instead of the half on the fold, which becomes a line inside it."""
        over = _in_fold(self.piece)
        if over is None:
            return self
        chalk = (*self.chalk, *(over.points(line) for line in self.chalk))
        lengthen = (*self.lengthen, *(over.points(line) for line in self.lengthen))
        return _Sheet(_opened(self.piece), chalk, lengthen, tuple(_opened(other) for other in self.others))

    def turned_over(self) -> _Sheet:
        """The same seen from the other side."""
        over = Affine.mirrored((0.0, 0.0), (0.0, 1.0))
        return _Sheet(
            mirrored(self.piece, over),
            tuple(over.points(line) for line in self.chalk),
            tuple(over.points(line) for line in self.lengthen),
            tuple(mirrored(other, over) for other in self.others),
        )

    def with_quantity(self, quantity: int) -> _Sheet:
        return replace(self, piece=replace(self.piece, quantity=quantity))


def _drawn(sheet: _Sheet, choice: Choice, ticket: Ticket) -> list[PiecePicture]:
    sheet = sheet.opened() if choice.whole else sheet
    hands = [(sheet.picture(ticket), "")]
    if choice.pair:
        each = sheet.with_quantity(max(1, sheet.piece.quantity // 2))
        hands = [(each.picture(ticket), ""), (each.turned_over().picture(ticket), wording.MIRRORED)]
    return [
        _told(picture, hand, wording.copy_of(number, choice.copies) if choice.copies > 1 else "", choice.group)
        for number in range(1, choice.copies + 1)
        for picture, hand in hands
    ]


def _told(picture: PiecePicture, hand: str, copy: str, group: str) -> PiecePicture:
    """The picture with a name and words that tell it from the other pictures of its piece."""
    extra = ", ".join(filter(None, (hand, copy)))
    if not extra:
        return replace(picture, group=group)
    quantity = f"{picture.quantity}, {extra}"
    words = picture.words and picture.words.with_row(picture.quantity, quantity)
    return replace(picture, name=f"{picture.name}, {extra}", quantity=quantity, words=words, group=group)


def _in(pattern: Pattern, name: str) -> Piece | None:
    try:
        return pattern.piece(name)
    except MissingPartError:
        return None


def _in_fold(piece: Piece) -> Affine | None:
    if piece.fold is None:
        return None
    edge = piece.edge(piece.fold)
    return Affine.mirrored(edge.start, edge.end)


def _opened(piece: Piece) -> Piece:
    if piece.fold is None:
        return piece
    fold = piece.edge(piece.fold)
    (whole,) = CutSingle(piece.name).apply(Pattern((piece,))).pattern.pieces
    middle = InnerLine(fold.id, fold.points)
    return replace(whole, quantity=piece.quantity, inner_lines=(*whole.inner_lines, middle))

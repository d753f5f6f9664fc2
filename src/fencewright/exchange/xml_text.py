"""XML of unknown origin, read safely: no document type, no entities, one sentence where it is broken.

The rule is that of defusedxml with `forbid_dtd=True` (a document type is the only door for entity bombs and
external entities); it is held here in one pass of expat, because defusedxml's own parser builds trees in
Python and takes ten seconds on a track of a million points.
"""

import io
from collections.abc import Iterator
from typing import NoReturn, Protocol
from xml.etree.ElementTree import Element, iterparse
from xml.parsers import expat

import defusedxml

from fencewright.exchange.intake import refuse_foreign, shown
from fencewright.findings import InputError

_CUT_SHORT = {
    expat.errors.codes[expat.errors.XML_ERROR_NO_ELEMENTS],
    expat.errors.codes[expat.errors.XML_ERROR_UNCLOSED_TOKEN],
    expat.errors.codes[expat.errors.XML_ERROR_PARTIAL_CHAR],
}
_MAX_DEPTH = 200


def local_name(tag: str) -> str:
    """Name of an element without its namespace."""
    return tag.rpartition("}")[2]


class XmlWalker(Protocol):
    """What `walk_xml` calls, element by element.

    `tags` are the elements that it is called for as they open and close; `text_tags` those without children
    that it is called for as they close, with their text. One that has attributes and text is among both.
    """

    tags: frozenset[str]
    text_tags: frozenset[str]

    def start(self, tag: str, attributes: dict[str, str]) -> None:
        """Take an element that opens."""

    def end(self, tag: str, text: str) -> None:
        """Take an element that closes, with its text where that was asked for."""


def check_xml(data: bytes, file: str, root: str, wanted: str) -> None:
    """Refuse what is not well-formed XML with the given root, or has a document type.

    Parameters
    ----------
    data : bytes
        The file.
    file : str
        Its name, for messages.
    root : str
        Name of the root element (`gpx`).
    wanted : str
        Name of the format, for messages (`GPX`).

    Raises
    ------
    InputError
        One sentence with the line.
    """
    refuse_foreign(data, file, wanted)
    found: list[str] = []
    parser = _safe_parser()

    def start(tag: str, _attributes: dict[str, str]) -> None:
        found.append(tag.rpartition(":")[2])
        parser.StartElementHandler = None

    parser.StartElementHandler = start
    _parse(parser, data, file, wanted)
    _check_root(found[0], root, file, wanted)


def walk_xml(data: bytes, file: str, root: str, wanted: str, walker: XmlWalker) -> None:
    """Walk through XML in one pass, holding none of it; refuse the same as `check_xml`.

    Parameters
    ----------
    data, file, root, wanted
        As for `check_xml`.
    walker : XmlWalker
        Called for each element, by its name without prefix.

    Raises
    ------
    InputError
        One sentence with the line, or what the walker raises.
    """
    refuse_foreign(data, file, wanted)
    parser = _safe_parser()
    tags, text_tags = walker.tags, walker.text_tags
    pieces: list[str] = []
    is_first = True

    def start(tag: str, attributes: dict[str, str]) -> None:
        nonlocal is_first
        if ":" in tag:
            tag = tag.rpartition(":")[2]
        if is_first:
            _check_root(tag, root, file, wanted)
            is_first = False
        if tag in text_tags:
            pieces.clear()
            parser.CharacterDataHandler = pieces.append
        if tag in tags:
            walker.start(tag, attributes)

    def end(tag: str) -> None:
        if ":" in tag:
            tag = tag.rpartition(":")[2]
        if tag in text_tags:
            parser.CharacterDataHandler = None
            walker.end(tag, "".join(pieces))
        elif tag in tags:
            walker.end(tag, "")

    parser.StartElementHandler, parser.EndElementHandler = start, end
    _parse(parser, data, file, wanted)


def opened_and_closed(data: bytes, file: str) -> Iterator[tuple[str, Element]]:
    """Give each element of checked XML twice: at its `start` (without content yet) and at its `end`.

    Raises
    ------
    InputError
        Elements are nested absurdly deep.
    """
    depth = 0
    for event, element in iterparse(io.BytesIO(data), events=("start", "end")):
        depth += 1 if event == "start" else -1
        if depth > _MAX_DEPTH:
            raise InputError(f"its elements are nested more than {_MAX_DEPTH} deep", file=file)
        yield event, element


def _safe_parser() -> expat.XMLParserType:
    """Give a parser that stops at a document type."""

    def refuse(name: str, system: str | None, public: str | None, has_internal: bool) -> NoReturn:
        raise defusedxml.DTDForbidden(name, system, public)

    parser = expat.ParserCreate()
    parser.StartDoctypeDeclHandler = refuse
    parser.buffer_text = True
    return parser


def _parse(parser: expat.XMLParserType, data: bytes, file: str, wanted: str) -> None:
    try:
        parser.Parse(data, True)
    except expat.ExpatError as error:
        raise InputError(_broken(data, error, wanted), file=file) from error
    except defusedxml.DefusedXmlException as error:
        what = "it holds a document type, which may hide entities and which no site file needs: remove it"
        raise InputError(what, file=file) from error
    except (ValueError, LookupError) as error:
        raise InputError("it is in an encoding that is not known: save it as UTF-8", file=file) from error


def _check_root(found: str, root: str, file: str, wanted: str) -> None:
    if found != root:
        raise InputError(f"it is XML of another kind (<{shown(found)}>), not {wanted}", file=file)


def _broken(data: bytes, error: expat.ExpatError, wanted: str) -> str:
    line = error.lineno
    if not data.lstrip(b"\xef\xbb\xbf\xff\xfe \t\r\n\x00").startswith(b"<"):
        return f"it is no {wanted} file: it does not begin with XML"
    if error.code in _CUT_SHORT:
        return f"the file is cut short in line {line}"
    if b"encoding" not in data[:200] and not data.startswith((b"\xff\xfe", b"\xfe\xff")):
        try:
            data.decode("utf-8-sig")
        except UnicodeDecodeError:
            return f"line {line} is not UTF-8 text: save the file as UTF-8"
    return f"line {line} is not well-formed XML ({expat.errors.messages[error.code]})"

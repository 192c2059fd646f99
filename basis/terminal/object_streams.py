"""A PDF with its small objects packed: the tags of a book are some hundred thousand of them, which a browser writes one by one as plain text.

Nothing is left out or changed: they stand many to a compressed stream, and the table that says where each object stands is one, too (ISO 32000-1, 7.5.7 and
7.5.8, from memory; tests read what is made with a general library).
"""
from __future__ import annotations

import re
import zlib
from collections.abc import Iterator

HEAD = b"%PDF-1.5\n%\xd3\xeb\xe9\xe1\n"  # the first version that has such streams, and four bytes that tell text from data
LINE = 20  # bytes of a line of a plain table
TABLE = re.compile(rb"xref\s+0 (\d+)\s*\n")
TRAILER = re.compile(rb"\s*<<(.*?)>>\s*startxref\s+(\d+)\s+%%EOF\s*", re.DOTALL)
LEAD = re.compile(rb"/(?:Root|Info) \d+ 0 R")  # of what the trailer says, all that is not about the table
TOGETHER = 200  # objects in a stream, all of which a reader unpacks to see one
OFF, PLAIN, PACKED = range(3)  # kinds of lines in the table: no object, one at an offset, one in a stream


def packed(pdf: bytes) -> bytes:
    """The same document, smaller; as it was where it is not written in one go with one plain table."""
    trailer = TRAILER.fullmatch(pdf, pdf.rfind(b"trailer") + len(b"trailer"))
    table = trailer and TABLE.match(pdf, int(trailer[2]))
    if not table or b"/Prev" in trailer[1] or b"/Encrypt" in trailer[1]:
        return pdf
    file, lines, small, size = bytearray(HEAD), {0: (OFF, 0, 65535)}, [], int(table[1])
    for number, content in _objects(pdf, table, size):
        if content.endswith(b"endstream"):  # which no other may hold
            lines[number] = (PLAIN, len(file), 0)
            file += _whole(number, content)
        else:
            small.append((number, content))
    for first in range(0, len(small), TOGETHER):
        some = small[first:first + TOGETHER]
        lines |= {number: (PACKED, size, place) for place, (number, _) in enumerate(some)}
        lines[size] = (PLAIN, len(file), 0)
        file += _whole(size, _together(some))
        size += 1
    lines[size] = (PLAIN, len(file), 0)
    rows = b"".join(_row(*lines.get(number, (OFF, 0, 0))) for number in range(size + 1))
    about = b"/Type /XRef /Size %d /W [1 4 2] %s" % (size + 1, b" ".join(LEAD.findall(trailer[1])))
    return bytes(file + _whole(size, _stream(about, rows)) + b"startxref\n%d\n%%%%EOF\n" % lines[size][1])


def _objects(pdf: bytes, table: re.Match, size: int) -> Iterator[tuple[int, bytes]]:
    """Number and content of each object, as they stand in the file."""
    entries = [pdf[where:where + LINE] for where in range(table.end(), table.end() + LINE * size, LINE)]
    places = sorted((int(entry[:10]), number) for number, entry in enumerate(entries) if entry[17:18] == b"n")
    for (start, number), (end, _) in zip(places, [*places[1:], (table.start(), 0)]):
        yield number, pdf[pdf.index(b"obj", start) + len(b"obj"):pdf.rindex(b"endobj", start, end)].strip()


def _together(objects: list[tuple[int, bytes]]) -> bytes:
    """A stream of objects, before which stand the number of each and where it begins."""
    heads, where = [], 0
    for number, content in objects:
        heads.append(b"%d %d" % (number, where))
        where += len(content) + 1
    head = b" ".join(heads) + b"\n"
    return _stream(b"/Type /ObjStm /N %d /First %d" % (len(objects), len(head)), head + b"\n".join(content for _, content in objects))


def _stream(about: bytes, content: bytes) -> bytes:
    small = zlib.compress(content, 9)
    return b"<<%s /Filter /FlateDecode /Length %d>>\nstream\n%s\nendstream" % (about, len(small), small)


def _whole(number: int, content: bytes) -> bytes:
    return b"%d 0 obj\n%s\nendobj\n" % (number, content)


def _row(kind: int, place: int, within: int) -> bytes:
    """A line of the table, in as many bytes for each of the three as its head says."""
    return kind.to_bytes(1, "big") + place.to_bytes(4, "big") + within.to_bytes(2, "big")

"""A packed PDF against the one that it was made of, both read with pypdf, which knows nothing of how it was packed."""

from io import BytesIO

from pypdf import PdfReader, PdfWriter
from pypdf.generic import ArrayObject, ByteStringObject, DecodedStreamObject, DictionaryObject, NameObject, NumberObject, TextStringObject

from basis.terminal.object_streams import TOGETHER, packed

MANY = 5 * TOGETHER + 1


def written(writer):
    file = BytesIO()
    writer.write(file)
    return file.getvalue()


def document():
    """Two pages with a stream, many small objects of every kind hanging on the catalogue, and one that is nothing."""
    writer = PdfWriter()
    for _ in range(2):
        writer.add_blank_page(200, 300)
    stream = DecodedStreamObject()
    stream.set_data(b"1 0 obj\nendobj\nendstream\n0 0 m")
    writer.pages[0][NameObject("/Contents")] = writer._add_object(stream)
    kinds = (NumberObject, lambda place: TextStringObject(f"words (in brackets) \\ endobj {place}"), lambda place: ByteStringObject(bytes(range(256)) * place),
             lambda place: NameObject(f"/Name{place}"), lambda place: ArrayObject([NumberObject(place)]),
             lambda place: DictionaryObject({NameObject("/K"): TextStringObject(f"v{place}")}))
    writer.root_object[NameObject("/Held")] = ArrayObject([writer._add_object(kinds[place % len(kinds)](place % 20)) for place in range(MANY)])
    writer.add_metadata({"/Title": "A book"})
    return written(writer)


def content(found, depth=4):
    """What an object holds, a few references deep, as plain text."""
    found = found.get_object()
    if depth and isinstance(found, dict):
        return {key: content(value, depth - 1) for key, value in found.items() if key != "/Parent"}, getattr(found, "_data", None)
    if depth and isinstance(found, list):
        return [content(value, depth - 1) for value in found]
    return repr(found) if not isinstance(found, (dict, list)) else len(found)


def test_every_object_is_what_it_was():
    plain = document()
    before, after = PdfReader(BytesIO(plain), strict=True), PdfReader(BytesIO(packed(plain)), strict=True)
    assert content(after.trailer["/Root"]) == content(before.trailer["/Root"])
    assert len(after.root_object["/Held"]) == MANY and after.metadata.title == "A book"
    assert after.pages[0].get_contents().get_data() == before.pages[0].get_contents().get_data()
    assert len(after.xref_objStm) > MANY and not before.xref_objStm
    assert len(packed(plain)) < len(plain) / 3


def test_what_is_not_one_plain_table_stays_as_it_is():
    plain = document()
    for other in (packed(plain), plain.replace(b"/Root", b"/Encrypt 9 0 R\n/Root"), plain.replace(b"/Root", b"/Prev 9\n/Root"), b"%PDF-1.4 no table",
                  plain.removesuffix(b"%%EOF\n"), b""):
        assert packed(other) == other

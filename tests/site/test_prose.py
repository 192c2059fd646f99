"""Length of the prose of chapters, counted on the built pages: what a reader of one project reads as running text."""

from page_tree import Element, read

LEAST, MOST = 150, 400  # project decision: long enough to say why, short enough to be read
BESIDE = {"figure", "details", "small", "em"}  # elements that are no running text
ASIDE = {"us", "mark", "weak", "verdicts", "stamp", "invented", "notice", "remark"}  # classes that are none, and what a project says; one of two units


def running(part) -> list[str]:
    """Pieces of running text in a part of a page, one between any two tags."""
    if isinstance(part, str):
        return [part]
    return [] if beside(part) else [piece for inner in part.content for piece in running(inner)]


def beside(element: Element) -> bool:
    return element.tag in BESIDE or bool(ASIDE.intersection(element.classes))


def paragraphs(element: Element):
    """Plain paragraphs below an element, in order; those beside the running text are left out."""
    for part in element.content:
        if isinstance(part, Element) and not beside(part):
            if part.tag == "p" and not part.attributes:
                yield part
            else:
                yield from paragraphs(part)


def words(html: str) -> int:
    """Words of the prose of a chapter page: its plain paragraphs as far as the table of checks."""
    article = read(html.split('id="checks"')[0]).all("article")[0]
    return sum(len(piece.split()) for paragraph in paragraphs(article) for piece in running(paragraph))


def test_only_running_text_before_the_checks_is_counted():
    # By hand: The, sets, give, this, power, in, summer, air, a semicolon between tags, two, words, more: 12.
    page = """<article><p class="stamp">not this</p><h2>nor this</h2>
        <p>The <a href="#x">sets</a> give this power<span class="us"> or horsepower</span> <span class="mark">assumed</span> in summer <b>air</b>;</p>
        <figure><p>no caption</p></figure><table><tr><td>no cell</td></tr></table><p><small>no note</small></p>
        <p>two words more</p><h2 id="checks">Checks</h2><p>no word of this</p></article>"""
    assert words(page) == 12


def test_every_chapter_says_why_in_150_to_400_words(site, books):
    counted = {f"{slug}/{chapter.id}.html": words((site / slug / f"{chapter.id}.html").read_text("utf-8"))
               for slug, book in books.items() for chapter in book.chapters}
    wrong = {page: count for page, count in counted.items() if not LEAST <= count <= MOST}
    assert counted and not wrong, f"prose not of {LEAST} to {MOST} words: " + ", ".join(f"{page} has {count}" for page, count in wrong.items())

"""A book as data beside its pages: the files that the command writes, linked from the first page; without them the page tells the command."""

import io
import zipfile

import pytest
from demos import demo_copy
from page_tree import read

import basis
from basis.export.files import SAID, data_files
from basis.site import addresses as addressing
from basis.site.building import build_site

SLUG = "cobble-key-exchange"


@pytest.fixture(scope="module")
def built(tmp_path_factory):
    folder = tmp_path_factory.mktemp("with-data")
    demo_copy(SLUG, folder / "projects" / SLUG)
    build_site(folder / "projects", folder / "site", quick=True, data=True)
    return folder


def test_the_files_beside_the_pages_are_those_of_the_command(built):
    book = basis.load(built / "projects" / SLUG)
    wanted = data_files(book, addressing.of_book(book))
    beside = built / "site" / SLUG
    with zipfile.ZipFile(io.BytesIO((beside / "tables.zip").read_bytes())) as tables:
        assert {one.date_time for one in tables.infolist()} == {(1980, 1, 1, 0, 0, 0)}
        found = {name: tables.read(name) for name in tables.namelist()}
    for name, content in wanted.items():
        assert (found[name] if name.startswith("tables/") else (beside / name).read_bytes()) == content, name


def test_the_first_page_leads_to_them_and_links_within_them_lead_back(built):
    page = read((built / "site" / SLUG / "index.html").read_text("utf-8"))
    links = [link.attributes["href"] for link in page.all("a") if "download" in link.attributes]
    assert links == list(SAID) and all((built / "site" / SLUG / name).is_file() for name in links)
    values = basis.load(built / "projects" / SLUG).values
    for value_id in ("altitude", "air_pressure"):
        target, anchor = addressing.home_page(basis.load(built / "projects" / SLUG), value_id), f'id="{value_id}"'
        assert value_id in values and anchor in (built / "site" / SLUG / target).read_text("utf-8")


def test_without_them_the_first_page_tells_the_command(site):
    text = read((site / SLUG / "index.html").read_text("utf-8")).text
    assert f"basis export {SLUG}" in text and not (site / SLUG / "book.json").exists()

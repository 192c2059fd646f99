"""What axe finds on a page in a real browser. Of parts that are built alike some stay, for what holds of one row of a table holds of its hundred sisters."""

from axe_playwright_python.base import AXE_FILE_PATH

TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
THIN = """alike => {
  const words = ["role", "class", "hidden", "type", "tabindex"]; // whose values tell how a part is built; of other attributes it is that they are there
  function built(one, deep) {
    const said = [...one.attributes].map(at => words.includes(at.name) ? `${at.name}=${at.value}` : at.name).sort();
    return one.localName + "[" + said + "]" + (deep ? "(" + [...new Set([...one.children].map(part => built(part, deep - 1)))].sort() + ")" : "");
  }
  for (const parent of document.querySelectorAll("tbody, tr, ul, ol, dl, select, article, .table, details, section, .schedule, .working, .working > div")) {
    const counts = {}, children = [...parent.children];
    if (children.length > 2 * alike) {
      for (const one of children) {
        const kind = built(one, 2);
        counts[kind] = (counts[kind] || 0) + 1;
        if (counts[kind] > alike && !one.contains(document.activeElement)) { one.remove(); }
      }
    }
  }
}"""
ALIKE = 2


def faults(page, within: str = "", thin: bool = True) -> list[str]:
    """A line for each rule that is broken within a part of the page, or on all of it; `thin` takes parts away that are built like others."""
    if thin:
        page.evaluate(THIN, ALIKE)
    page.evaluate(AXE_FILE_PATH.read_text("utf-8"))
    found = page.evaluate("([where, tags]) => axe.run(where || document, {runOnly: {type: 'tag', values: tags}, preload: false})", [within, TAGS])
    assert found["passes"]  # it has looked
    return [f"{one['id']}: {one['help']}: {one['nodes'][0]['html'][:160]} (and {len(one['nodes']) - 1} more)" for one in found["violations"]]

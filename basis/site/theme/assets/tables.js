// Long tables sort by their heads and filter by a text, a word of a column or the chapter of what they lead to. Without this file they are whole.
(function () {
  "use strict";
  const NONE = "none"; // of a cell without any of the words of its column
  const LONG = 500; // rows of which the text is taken as written, hidden units too: asking what is seen would take too long
  function element(name, text, facts) { const made = Object.assign(document.createElement(name), facts || {}); made.textContent = text; return made; }
  function chapterOf(row) { // as it says, or by where its links lead; chapters are named as in the list at the side
    const found = row.dataset.of || (/href="(?:[^"]*\/)?(\w+)-(?:inputs|sheet)\.html#/.exec(row.innerHTML) || [])[1];
    const named = found && document.querySelector(".side a[href='" + found + ".html']");
    return named ? named.textContent : "";
  }
  function ranked(cell, head) { // of words that a cell holds the first in the order of its column: of verdicts, or of what the head says
    const find = head.dataset.find || ".verdict", held = [cell].concat(Array.from(cell.querySelectorAll(find))).filter(function (one) { return one.matches(find); });
    return ranks(head).find(function (word) { return held.some(function (one) { return one.textContent.trim() === word; }); }) || NONE;
  }
  function ranks(head) { return head.dataset.ranks ? head.dataset.ranks.split("|") : []; }
  document.querySelectorAll(".schedule").forEach(function (box) {
    const tables = Array.from(box.querySelectorAll("table")), rows = tables.flatMap(function (table) { return Array.from(table.tBodies[0].rows); });

    // ---- filter: rows that hold every word, and what is picked ----
    const label = element("label", "Rows with "), field = element("input", "", { type: "search", autocomplete: "off" }), told = element("output", "");
    label.append(field, told); box.prepend(label);
    function said(head) {
      return function (row) { const cell = row.cells[head.cellIndex]; return head.dataset.ranks ? ranked(cell, head) : cell.dataset.word || cell.innerText.trim(); };
    }
    function pick(name, word, order) {
      const words = rows.map(word), inner = element("label", name + " "), list = element("select", "");
      const choices = order.length ? order.concat(NONE).filter(function (one) { return words.includes(one); }) : Array.from(new Set(words.filter(Boolean)));
      if (choices.length < 2) { return null; }
      list.append(element("option", "all", { value: "" }), ...choices.map(function (one) { return element("option", one, { value: one }); }));
      inner.append(list); label.before(inner); list.addEventListener("change", filter);
      return { list: list, words: words };
    }
    const picks = Array.from(tables[0].tHead.rows[0].cells).map(function (head) { return head.dataset.pick ? pick(head.dataset.pick, said(head), ranks(head)) : null; })
      .concat("chapters" in box.dataset ? pick("Chapter", chapterOf, []) : null).filter(Boolean);
    let texts = null, units = "";
    function textsNow() {
      if (texts && units === document.documentElement.dataset.units) { return texts; }
      units = document.documentElement.dataset.units;
      rows.forEach(function (row) { row.classList.remove("out"); }); // of what is not shown nothing is seen
      texts = rows.map(function (row) { return (rows.length > LONG ? row.textContent : row.innerText).toLowerCase(); });
      return texts;
    }
    function filter() {
      const words = field.value.toLowerCase().split(/\s+/).filter(Boolean), asked = picks.filter(function (one) { return one.list.value; });
      const seen = words.length ? textsNow() : [];
      const kept = rows.filter(function (row, place) {
        const held = asked.every(function (one) { return one.words[place] === one.list.value; }) && words.every(function (word) { return seen[place].includes(word); });
        row.classList.toggle("out", !held);
        return held;
      });
      if (tables.length > 1) { tables.forEach(function (table) { // a table without a row goes with the heading before it
        const empty = !table.querySelector("tbody tr:not(.out)");
        let part = table.closest(".wide");
        do { part.hidden = empty; part = part.previousElementSibling; } while (part && !part.matches(".wide, label"));
      }); }
      told.textContent = words.length || asked.length ? kept.length + " of " + rows.length : "";
    }
    field.addEventListener("input", filter);

    // ---- sort: up, down, as they stood ----
    function key(row, head) {
      const cell = row.cells[head.cellIndex], order = ranks(head);
      if (order.length) { return order.concat(NONE).indexOf(ranked(cell, head)); }
      return "key" in cell.dataset ? Number(cell.dataset.key) : cell.querySelector(".mark") ? null : cell.innerText.trim();
    }
    function compare(one, other) {
      if (one === null || other === null) { return (one === null) - (other === null); }
      return typeof one === "number" && typeof other === "number" ? one - other : String(one).localeCompare(String(other), undefined, { numeric: true });
    }
    tables.forEach(function (table) {
      const body = table.tBodies[0], own = Array.from(body.rows), heads = Array.from(table.tHead.rows[0].cells);
      function order(column, turn) {
        const keyed = own.map(function (row, place) { return [turn ? key(row, heads[column]) : place, place, row]; });
        keyed.sort(function (a, b) {
          const found = turn ? compare(a[0], b[0]) : 0;
          return (a[0] === null || b[0] === null ? found : turn * found) || a[1] - b[1];
        });
        body.append(...keyed.map(function (one) { return one[2]; }));
      }
      heads.forEach(function (head, column) {
        const button = element("button", "", { type: "button" });
        button.append(...head.childNodes);
        head.append(button);
        button.addEventListener("click", function () {
          const before = head.getAttribute("aria-sort"), now = before === "ascending" ? "descending" : before ? "" : "ascending";
          heads.forEach(function (one) { one.removeAttribute("aria-sort"); });
          if (now) { head.setAttribute("aria-sort", now); }
          order(column, { ascending: 1, descending: -1 }[now] || 0);
        });
      });
    });
  });
})();

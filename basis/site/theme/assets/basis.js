// Units switch, change marks on and off, search in the book, schedules. Every page works without this file.
(function () {
  "use strict";
  var root = document.documentElement;

  // ---- units and change marks: remembered when the browser lets us ----
  function choose(what, word) {
    root.dataset[what] = word;
    try { localStorage.setItem("basis." + what, word); } catch (refused) { /* a private window: chosen for this page only */ }
    mark();
  }
  function mark() {
    document.querySelectorAll("button[data-units]").forEach(function (button) {
      button.setAttribute("aria-pressed", String(button.dataset.units === root.dataset.units));
    });
    document.querySelectorAll("button[data-marks]").forEach(function (button) { button.setAttribute("aria-pressed", String(root.dataset.marks !== "off")); });
  }
  document.addEventListener("click", function (event) {
    var button = event.target.closest("button[data-units]");
    if (button) { choose("units", button.dataset.units); }
    if (event.target.closest("button[data-marks]")) { choose("marks", root.dataset.marks === "off" ? "on" : "off"); }
  });
  mark();

  // ---- data of a book: scripts, because a page opened from a folder may not fetch ----
  var field = document.querySelector("input[data-books]");
  if (!field) { return; }
  var records = [], waiting = null;
  window.basisBook = function (book) {
    book.records.forEach(function (record) {
      records.push({ id: record[0], title: record[1], detail: record[2], source: record[3], page: record[4], book: book });
    });
  };
  function load() {
    if (waiting) { return waiting; }
    waiting = Promise.all(field.dataset.books.split(" ").map(function (address) {
      return new Promise(function (done) {
        var script = document.createElement("script");
        script.src = address; script.onload = done; script.onerror = done;
        document.head.appendChild(script);
      });
    }));
    return waiting;
  }
  function address(record) { return field.dataset.root + record.book.slug + "/" + record.page + (record.id ? "#" + record.id : ""); }

  // ---- search ----
  var list = document.getElementById("found"), active = -1;
  function wordsOf(text) { return text.toLowerCase().split(/[\s_.]+/).filter(Boolean); }
  function score(record, words) {
    var title = record.title.toLowerCase(), all = (title + " " + record.id + " " + record.detail).toLowerCase().replace(/_/g, " ");
    if (!words.every(function (word) { return all.indexOf(word) >= 0; })) { return 0; }
    return (title.indexOf(words[0]) === 0 ? 4 : 1) + words.filter(function (word) { return title.indexOf(word) >= 0; }).length;
  }
  function find() {
    var words = wordsOf(field.value), several = field.dataset.books.indexOf(" ") >= 0;
    var hits = words.length ? records.map(function (record) { return [score(record, words), record]; })
      .filter(function (hit) { return hit[0]; }).sort(function (a, b) { return b[0] - a[0]; }).slice(0, 12) : [];
    list.textContent = ""; active = -1;
    hits.forEach(function (hit, number) {
      var item = document.createElement("li"), link = document.createElement("a"), detail = document.createElement("small");
      item.id = "found-" + number; item.setAttribute("role", "option");
      link.href = address(hit[1]); link.tabIndex = -1; link.textContent = hit[1].title;
      detail.textContent = (several ? hit[1].book.name + ": " : "") + hit[1].detail;
      link.appendChild(detail); item.appendChild(link); list.appendChild(item);
    });
    list.hidden = !words.length;
    if (words.length && !hits.length) {
      var none = document.createElement("li");
      none.textContent = "Nothing found"; none.setAttribute("role", "option"); none.setAttribute("aria-disabled", "true"); list.appendChild(none);
    }
    field.setAttribute("aria-expanded", String(!list.hidden));
  }
  function step(by) {
    var links = list.querySelectorAll("a");
    if (!links.length) { return; }
    active = (active + by + links.length) % links.length;
    links.forEach(function (link, number) { link.parentNode.setAttribute("aria-selected", String(number === active)); });
    field.setAttribute("aria-activedescendant", links[active].parentNode.id);
    links[active].scrollIntoView({ block: "nearest" });
  }
  function shut() { list.hidden = true; field.setAttribute("aria-expanded", "false"); field.removeAttribute("aria-activedescendant"); }
  field.parentNode.hidden = false;
  field.addEventListener("focus", load);
  field.addEventListener("input", function () { load().then(find); });
  field.addEventListener("keydown", function (event) {
    if (event.key === "ArrowDown" || event.key === "ArrowUp") { step(event.key === "ArrowDown" ? 1 : -1); event.preventDefault(); }
    if (event.key === "Enter") { var link = list.querySelectorAll("a")[Math.max(active, 0)]; if (link) { location.href = link.href; shut(); } event.preventDefault(); }
    if (event.key === "Escape") { shut(); }
  });
  document.addEventListener("click", function (event) { if (!event.target.closest(".find")) { shut(); } });
})();

// Schedules: long tables of items sort by their heads and filter by a text. Without this file they are whole and in the project's order.
(function () {
  "use strict";
  function element(name, text, facts) { var made = Object.assign(document.createElement(name), facts || {}); made.textContent = text; return made; }
  document.querySelectorAll(".schedule").forEach(function (box) {
    var table = box.querySelector("table"), body = table.tBodies[0], heads = Array.from(table.tHead.rows[0].cells), rows = Array.from(body.rows);

    // ---- filter: rows that hold every word, and what is picked of a column of words ----
    var label = element("label", "Rows with "), field = element("input", "", { type: "search", autocomplete: "off" }), told = element("output", "");
    label.appendChild(field); label.appendChild(told); box.insertBefore(label, box.firstChild);
    function said(row, column) { return row.cells[column].dataset.word || row.cells[column].innerText.trim(); }
    var picks = heads.map(function (head, column) { return [head.dataset.pick, column]; }).filter(function (pick) { return pick[0]; }).map(function (pick) {
      var inner = element("label", pick[0] + " "), list = element("select", "");
      list.appendChild(element("option", "all", { value: "" }));
      rows.map(function (row) { return said(row, pick[1]); }).filter(function (word, place, all) { return all.indexOf(word) === place; })
        .forEach(function (word) { list.appendChild(element("option", word, { value: word })); });
      inner.appendChild(list); box.insertBefore(inner, label); list.addEventListener("change", filter);
      return { list: list, column: pick[1] };
    });
    function filter() {
      rows.forEach(function (row) { row.classList.remove("out"); });
      var words = field.value.toLowerCase().split(/\s+/).filter(Boolean), asked = picks.filter(function (pick) { return pick.list.value; });
      var texts = rows.map(function (row) { return row.innerText.toLowerCase(); });
      var picked = rows.map(function (row) { return asked.every(function (pick) { return said(row, pick.column) === pick.list.value; }); });
      var kept = rows.filter(function (row, number) {
        var held = picked[number] && words.every(function (word) { return texts[number].indexOf(word) >= 0; });
        row.classList.toggle("out", !held);
        return held;
      });
      told.textContent = words.length || asked.length ? kept.length + " of " + rows.length : "";
    }
    field.addEventListener("input", filter);

    // ---- sort: up, down, as the project lists them ----
    function key(row, column) {
      var cell = row.cells[column];
      return "key" in cell.dataset ? Number(cell.dataset.key) : cell.querySelector(".mark") ? null : cell.innerText.trim();
    }
    function compare(one, other) {
      if (one === null || other === null) { return (one === null) - (other === null); }
      return typeof one === "number" && typeof other === "number" ? one - other : String(one).localeCompare(String(other), undefined, { numeric: true });
    }
    function order(column, turn) {
      var keyed = rows.map(function (row, place) { return [key(row, column), place, row]; });
      if (turn) {
        keyed.sort(function (a, b) {
          var found = compare(a[0], b[0]);
          return (a[0] === null || b[0] === null ? found : turn * found) || a[1] - b[1];
        });
      }
      keyed.forEach(function (one) { body.appendChild(one[2]); });
    }
    heads.forEach(function (head, column) {
      var button = element("button", "", { type: "button" });
      while (head.firstChild) { button.appendChild(head.firstChild); }
      head.appendChild(button);
      button.addEventListener("click", function () {
        var before = head.getAttribute("aria-sort"), now = before === "ascending" ? "descending" : before ? "" : "ascending";
        heads.forEach(function (one) { one.removeAttribute("aria-sort"); });
        if (now) { head.setAttribute("aria-sort", now); }
        order(column, { ascending: 1, descending: -1 }[now] || 0);
      });
    });
  });
})();

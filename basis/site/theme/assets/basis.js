// Units switch, change marks on and off, the door of the search, schedules. Every page works without this file.
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

  // ---- search: hidden until this has woken, and loaded with the field's first focus ----
  var field = document.querySelector("input[data-books]");
  if (!field) { return; }
  field.parentNode.hidden = false;
  field.addEventListener("focus", function () {
    var script = document.createElement("script");
    script.src = field.dataset.root + "assets/search.js";
    document.head.appendChild(script);
  }, { once: true });
})();

// Workings of single elements: on a sheet the element named before a row of numbers is a button. It turns into lists of the items, and what is chosen there is
// put together from a file that is loaded when the first button is pressed. Without this file the page shows the row of one element.
(function () {
  "use strict";
  var sheet = /[^/]+-sheet(?=\.html$)/.exec(location.pathname), values = null, axes = null, waiting = null;
  if (!sheet) { return; }
  window.basisRows = function (found) { values = found[0]; axes = found[1]; };
  function load() {
    waiting = waiting || new Promise(function (done) {
      var script = document.createElement("script");
      script.src = sheet[0] + ".js"; script.onload = done; script.onerror = done;
      document.head.appendChild(script);
    });
    return waiting;
  }
  function made(name, text, facts) { var one = Object.assign(document.createElement(name), facts || {}); one.textContent = text; return one; }
  function result(id, value, ids) { // from the tables of the value, which may be turned or parted
    var across = ids.length > 1 || value.axes[0] === "band", tables = document.getElementById(id).querySelectorAll("table");
    var head = document.getElementById([id].concat(across ? ids.slice(0, -1) : ids).join("."));
    var place = across ? Object.keys(axes[value.axes[ids.length - 1]][1]).indexOf(ids[ids.length - 1]) : 0;
    var turned = head && head.tagName === "TH", row = head && head.tagName === "TR" ? head.sectionRowIndex : 0;
    var cells = turned ? [head.closest("table").tBodies[0].rows[place].cells[head.cellIndex]] :
      [].concat.apply([], Array.from(tables, function (table) { return Array.from(table.tBodies[0].rows[row].querySelectorAll("td")); }));
    var cell = cells[turned ? 0 : place];
    return cell ? " =\u00a0" + cell.innerHTML.replace(/<(u-[dp]\d+)><\/\1>/g, "") + " " + value.unit : "";
  }
  function open(id, label) {
    var value = values && values[id];
    if (!value) { return; }
    var items = value.axes.map(function (axis) { return Object.keys(axes[axis][1]); });
    var place = value.rows.findIndex(function (row) { return row.length; }), line = made("span", "", { ariaLive: "polite" });
    var lists = items.map(function (ids, number) {
      var list = made("select", "", { ariaLabel: axes[value.axes[number]][0] });
      ids.forEach(function (item) { list.appendChild(made("option", axes[value.axes[number]][1][item], { value: item })); });
      return list;
    });
    lists.slice().reverse().forEach(function (list) { list.selectedIndex = place % list.length; place = Math.floor(place / list.length); });
    function show() {
      var at = lists.reduce(function (sum, list) { return sum * list.length + list.selectedIndex; }, 0), row = value.rows[at];
      var ids = lists.map(function (list) { return list.value; });
      line.innerHTML = row.length ? value.forms[row[0]].split("\ue000").map(function (part, number) { return (number ? row[number] : "") + part; }).join("") +
        result(id, value, ids) : "given, not computed";
    }
    label.textContent = "for ";
    lists.forEach(function (list) { label.append(list, " "); list.addEventListener("change", show); });
    while (label.nextSibling) { label.nextSibling.remove(); }
    label.after(line);
    show();
    lists[0].focus();
  }
  document.querySelectorAll("section > .working > div > .mark:first-child").forEach(function (label) {
    var named = /^for (.*): $/.exec(label.textContent), section = label.closest("section");
    if (!named) { return; }
    var button = made("button", named[1], { type: "button", title: "Another element" });
    button.addEventListener("click", function () { load().then(function () { open(section.id, label); }); });
    label.replaceChildren("for ", button, " ");
  });
})();

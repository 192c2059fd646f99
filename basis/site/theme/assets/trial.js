// Trials: a slider shows this chapter as the build computed it with another input. Nothing is computed here: what differs is loaded as a script and put in its places.
(function () {
  "use strict";
  var box = document.querySelector(".trials");
  if (!box) { return; }
  var root = document.documentElement, told = box.querySelector("[role=status]"), back = box.querySelector("button"), title = document.title;
  var sliders = Array.from(box.querySelectorAll("input")), loaded = {}, undo = [];

  // ---- elements and texts of the page as it was written, counted as the build counts them: figures and spaces alone are none ----
  var elements = [], texts = [];
  function kids(node) {
    return Array.from(node.childNodes).filter(function (one) { return one.nodeType === 1 ? one.nodeName !== "FIGURE" : one.nodeType === 3 && one.data.trim(); });
  }
  function count(node) {
    if (node.nodeType === 3) { texts.push(node); return; }
    elements.push({ node: node, kids: kids(node) });
    kids(node).forEach(count);
  }
  var page = { node: box.parentNode, kids: kids(box.parentNode) };
  var end = document.querySelector(".trials-end");
  page.kids = page.kids.slice(page.kids.indexOf(box) + 1, page.kids.indexOf(end));
  page.kids.forEach(count);

  // ---- what a step puts in its places ----
  function said(row, at) { var one = row.slice(3)[at]; return one === 0 || one === null ? one : row[1] + one + row[2]; }
  function tried(node) {
    var at = node.nodeType === 3 ? node.parentNode : node;
    at.setAttribute("data-tried", "");
    undo.push(function () { at.removeAttribute("data-tried"); });
  }
  function each(rows, at, put) {
    rows.forEach(function (row) {
      var one = said(row, at);
      if (one !== 0) { [].concat(row[0]).forEach(function (place) { put(place, one); }); }
    });
  }
  function putText(place, text) {
    var node = texts[place], issued = node.data;
    node.data = text;
    undo.push(function () { node.data = issued; });
    tried(node);
  }
  function putAttribute(name, place, text) {
    var node = elements[place].node, issued = node.getAttribute(name);
    if (text === null) { node.removeAttribute(name); } else { node.setAttribute(name, text); }
    undo.push(function () { if (issued === null) { node.removeAttribute(name); } else { node.setAttribute(name, issued); } });
    if (name === "class") { tried(node); }
  }
  function putRange(place, html) {
    var parent = place[0] < 0 ? page : elements[place[0]], made = document.createElement("template"), last = place[1] + place[2];
    made.innerHTML = html;
    var come = kids(made.content), ahead = parent.kids[last] || (parent === page ? end : null);
    come.forEach(function (node) { parent.node.insertBefore(node, ahead); tried(node); });
    if (!come.length && parent !== page) { tried(parent.node); }
    undo.push(function () { come.forEach(function (node) { node.remove(); }); });
    parent.kids.slice(place[1], last).forEach(function (node) {
      var held = document.createComment("");
      node.replaceWith(held);
      undo.push(function () { held.replaceWith(node); });
    });
  }
  function issued() {
    while (undo.length) { undo.pop()(); }
    delete root.dataset.trial;
    document.title = title;
    back.hidden = true;
    sliders.forEach(function (slider) { slider.value = slider.defaultValue; speak(slider); });
  }
  function still() {
    document.querySelectorAll("figure, table.options").forEach(function (one) {
      var note = document.createElement("p");
      note.className = "tried-not"; note.textContent = "As the book stands: this does not move with the trial.";
      one.parentNode.insertBefore(note, one);
      undo.push(function () { note.remove(); });
    });
    document.querySelectorAll(".schedule th button").forEach(function (button) { // rows are ordered by numbers of the issued book
      button.closest("th").removeAttribute("aria-sort"); button.disabled = true;
      undo.push(function () { button.disabled = false; });
    });
  }

  // ---- words: the number of a step in both systems, in the box and for who hears it ----
  function amount(pair, into) {
    into.textContent = "";
    ["si", "us"].forEach(function (system, at) {
      var one = document.createElement("u-" + system);
      one.textContent = pair[at]; into.appendChild(one);
    });
  }
  function speak(slider) {
    var data = loaded[slider.dataset.trial], output = slider.parentNode.querySelector("output");
    if (!data) { slider.setAttribute("aria-valuetext", words(output)); return; }
    amount(data.steps[slider.value], output);
    slider.setAttribute("aria-valuetext", words(output) + (slider.value === slider.defaultValue ? ", as in the book" : ", trial"));
  }
  function words(output) {
    var one = output.querySelector("u-" + (root.dataset.units === "us" ? "us" : "si"));
    return (one || output).textContent;
  }
  function line(before, pair, between, other, after) {
    told.textContent = before;
    [pair, other].forEach(function (one, at) {
      var held = document.createElement("strong");
      amount(one, held); told.appendChild(at ? document.createTextNode(between) : document.createTextNode("")); told.appendChild(held);
    });
    told.appendChild(document.createTextNode(after));
  }

  // ---- a step ----
  function show(slider) {
    var data = loaded[slider.dataset.trial], at = slider.value;
    issued();
    if (at === slider.defaultValue) { told.textContent = "This is the book as it stands."; return; }
    slider.value = at; speak(slider);
    back.hidden = false;
    root.dataset.trial = "on";
    document.title = "Trial: " + title;
    if (data.faults[at]) {
      line("Trial: " + data.name + " ", data.steps[at], ", in the book ", data.steps[data.issued], ". It cannot be computed: " + data.faults[at] + ". All numbers below are those of the book as it stands.");
      return;
    }
    if (data.counts[0] !== elements.length || data.counts[1] !== texts.length) {
      issued();
      told.textContent = "This page is not as it was built, so the trial cannot be shown.";
      return;
    }
    each(data.text, at, putText);
    Object.keys(data.attribute).forEach(function (name) { each(data.attribute[name], at, function (place, one) { putAttribute(name, place, one); }); });
    each(data.range, at, putRange);
    still();
    line("Trial: " + data.name + " ", data.steps[at], ", in the book ", data.steps[data.issued], ". What is marked ◇ has moved. Figures, options and the pages behind links are as they stand; the project's remark on a verdict that has moved is left out.");
  }
  function load(slider) {
    var name = slider.dataset.trial;
    if (loaded[name]) { show(slider); return; }
    if (window.basisTrial) { return; } // one is on its way; it shows where the slider then stands
    var script = document.createElement("script");
    window.basisTrial = function (data) { // numbers of rows are lists by step, texts of a slider's value are their keys
      loaded[name] = data;
    };
    script.src = name;
    script.onload = function () { delete window.basisTrial; show(slider); };
    script.onerror = function () { delete window.basisTrial; issued(); told.textContent = "The numbers of this trial could not be loaded."; };
    document.head.appendChild(script);
  }
  sliders.forEach(function (slider) {
    slider.value = slider.defaultValue;
    speak(slider);
    slider.addEventListener("input", function () { load(slider); });
  });
  back.addEventListener("click", function () {
    var moved = sliders.find(function (slider) { return slider.value !== slider.defaultValue; });
    issued();
    told.textContent = "Back to the book as it stands.";
    if (moved) { moved.focus(); }
  });
  document.addEventListener("click", function (event) { if (event.target.closest("button[data-units]")) { sliders.forEach(speak); } });
})();

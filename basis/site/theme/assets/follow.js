// Following a number: the card beside it, its path by layers, links to copy, and from a working back to where a chapter shows it.
// Every page works without this file. It computes nothing: what it tells stands in the book's graph.js, a script because a page opened from a folder may not fetch.
(function () {
  "use strict";
  const MANY = 12; // of the inputs or users of one number that stand at once
  const quantity = "a.n", card = document.getElementById("card"), main = document.querySelector(".md-content");

  function make(name, facts, ...parts) {
    const made = document.createElement(name);
    Object.entries(facts || {}).forEach(([key, fact]) => made.setAttribute(key, fact));
    made.append(...parts.flat(Infinity).filter((part) => part !== ""));
    return made;
  }
  function button(text, action, facts) {
    const made = make("button", Object.assign({ type: "button" }, facts), text);
    made.addEventListener("click", action);
    return made;
  }
  function both(si, us) { return us ? [make("u-si", {}, si), make("u-us", {}, us)] : [si]; }
  function lowered(text) { return text.split(/_([^\s()^\/\]|]*[^\s()^\/\]|,;.])/).map((part, place) => (place % 2 ? make("sub", {}, part) : part)); }
  const said = make("div", { class: "spoken", role: "status" });
  function tell(text) { said.textContent = text; }
  document.body.append(said);

  // ---- the graph of a book ----
  const graphs = {}, waiting = {};
  function rows(columns) {
    const keys = Object.keys(columns);
    return (columns[keys[0]] || []).map((_, place) => Object.fromEntries(keys.map((key) => [key, columns[key][place]])));
  }
  window.basisGraph = function (data) {
    const folder = new URL(".", document.currentScript.src).href;
    const values = rows(data.values), checks = rows(data.checks), decisions = rows(data.decisions), byId = new Map();
    const at = (places) => places.map((place) => values[place]);
    values.forEach((one) => {
      byId.set(one.id, one);
      Object.assign(one, { href: folder + data.pages[one.page][0] + "#" + one.id, onto: [], checks: [], decided: [], compared: [] });
    });
    values.forEach((one) => { one.from = at(one.inputs); one.from.forEach((input) => input.onto.push(one)); });
    checks.forEach((one) => {
      one.verdict = data.words[one.word];
      Object.assign(one, { href: folder + (one.self ? "self-tests" : "checks") + ".html#check-" + one.id, from: at(one.sides), onto: [] });
      one.from.forEach((side) => side.checks.push(one));
    });
    decisions.forEach((one) => { // people decide: nothing leads through
      Object.assign(one, { href: folder + "options.html#decision-" + one.id, from: [], onto: [] });
      at(one.sets).forEach((value) => value.decided.push(one));
      at(one.compares).forEach((value) => value.compared.push(one));
    });
    graphs[folder] = Object.assign(data, { byId: byId, folder: folder });
  };
  function urlOf(link) { return new URL(link.getAttribute("href") || link.getAttribute("xlink:href"), location); }
  function graphOf(url) {
    const folder = new URL(".", url).href;
    waiting[folder] = waiting[folder] || new Promise((done) => {
      const script = make("script", { src: folder + "graph.js" });
      script.onload = script.onerror = () => done(graphs[folder]);
      document.head.append(script);
    });
    return waiting[folder];
  }
  // the value to which an address leads, the ids of the element, and whether it is of the chosen book
  function found(graph, url) {
    const [id, ...items] = decodeURIComponent(url.hash.slice(1)).split("."), value = graph && graph.byId.get(id);
    return value && { graph: graph, value: value, items: items, chosen: url.href.split("#")[0] === value.href.split("#")[0] };
  }
  const ways = {
    from: { title: "Rests on", none: "On nothing: it is given.", next: (one) => [...(one.decided || []), ...one.from], word: "rests on" },
    onto: { title: "Leads to", none: "To nothing more.", next: (one) => [...(one.checks || []), ...one.onto, ...(one.compared || [])], word: "leads to" },
  };

  // ---- one value, check or decision as a link with what is known of it ----
  function symbol(text) {
    const [stem, ...below] = text.split("_");
    return text ? [" ", make("i", {}, stem), below.length ? make("sub", {}, below.join("_")) : ""] : [];
  }
  function verdict(one) { return [make("span", { class: "verdict " + one.verdict.replace(/ /g, "-") }, one.verdict), one.margin ? [", margin ", both(one.margin, one.margin_us)] : ""]; }
  function told(one) {
    const what = one.verdict ? verdict(one) : one.chosen ? ["decision, chosen: " + one.chosen] : both(one.si, one.us);
    return [make("a", { href: one.href }, one.name), ...symbol(one.symbol || ""), " ", make("span", { class: "told" }, what)];
  }

  // ---- the card ----
  function numberIn(spot, value, items) { // of an element: what stands in the link or in the cell, with the unit of its column
    const own = { si: spot.querySelector("u-si") || spot, us: spot.querySelector("u-us") };
    const words = (system) => {
      const text = own[system] ? own[system].textContent.trim() : "", unit = value["unit_" + system];
      return text && unit && !text.endsWith(unit) ? text + " " + unit : text;
    };
    return items.length || !value.si ? [words("si"), words("us")] : [value.si, value.us];
  }
  function lines(title, items) { return items.length ? [make("small", {}, title), make("ul", {}, items.map((item) => make("li", {}, item)))] : []; }
  function resting(value) { // all checks that rest on a value by way of others
    const seen = new Set([value]), checks = new Set();
    seen.forEach((one) => { one.checks.forEach((check) => checks.add(check)); one.onto.forEach((user) => seen.add(user)); });
    return [...checks].filter((check) => !check.self);
  }
  function hanging(value, words) {
    const all = resting(value), urgent = all.filter((one) => !value.checks.includes(one)).sort((a, b) => a.word - b.word).slice(0, 3);
    const counts = words.map((word) => [word, all.filter((one) => one.verdict === word).length]).filter((count) => count[1]);
    return [...lines("Checks on it", value.checks.map(told)), ...lines("Checks further on that rest on it, the most urgent", urgent.map(told)),
      all.length ? make("small", {}, (all.length === 1 ? "On it rests 1 check: " : "On it rest " + all.length + " checks: ") + counts.map(([word, count]) => word + " " + count).join(", ")) : ""];
  }
  function placed(graph, value, here) {
    const pages = value.shown.map((page) => graph.pages[page]).filter((page) => graph.folder + page[0] !== here);
    return pages.map((page) => make("a", { href: graph.folder + page[0] + "#shown-" + value.id }, page[1]));
  }
  function between(parts, sign) { return parts.flatMap((part, place) => (place ? [sign, part] : [part])); }
  function content(what, link, spot) {
    const { graph, value, items, chosen } = what, moved = link.nextElementSibling;
    const names = items.map((item, place) => (graph.items[value.axes[place]] || {})[item] || item.replace(/_/g, " "));
    const [si, us] = spot ? numberIn(spot, value, chosen ? items : [""]) : [value.si, value.us];
    const head = [make("strong", {}, [value.name, ...names].join(", "), symbol(value.symbol)),
      make("p", {}, make("b", { class: "both" }, both(si, us)), chosen ? make("small", {}, graph.standings[value.standing]) : ""),
      moved && moved.matches("u-was") ? make("p", {}, moved.innerText) : "", value.how ? make("p", { class: "how" }, lowered(value.how)) : ""];
    const source = lines("Source", value.sources.map((place) => graph.sources[place]));
    if (!chosen) { return [...head, ...source, make("small", {}, "Of an option that is not chosen: its inputs stand with its working.")]; }
    const shown = placed(graph, value, location.href.split("#")[0]);
    return [...head, ...lines("Inputs", value.from.map(told)), ...lines("Set by", value.decided.map(told)), ...hanging(value, graph.words), ...source,
      shown.length ? make("small", {}, "Shown in ", between(shown, ", ")) : "",
      make("p", { class: "tools" }, button("Path", () => openPath(value, link)), copier(urlOf(link).href)),
      make("small", { class: "hint" }, "→ leads into this card, Esc closes it")];
  }
  const LEAST = 96; // of a card, in pixels: some lines of it, also where a number fills the screen
  let timer = 0, shown = null, quiet = false;
  function rowLink(event) { // a row or column whose head is a link: each of its numbers leads there too
    const cell = event.target.closest && event.target.closest("td");
    if (!cell || event.target.closest("a")) { return null; }
    const turned = cell.closest(".turned");
    return (turned ? turned.tHead.rows[0].cells[cell.cellIndex] : cell.parentNode).querySelector("a.row");
  }
  document.addEventListener("click", (event) => {
    const link = rowLink(event);
    if (link && String(getSelection()) === "") { link.click(); }
  });
  function show(link, spot, byKey) {
    graphOf(urlOf(link)).then((graph) => {
      const what = found(graph, urlOf(link));
      if (!what || !link.isConnected) { return; }
      card.replaceChildren(...content(what, link, spot).filter(Boolean));
      card.classList.toggle("byKey", byKey);
      card.setAttribute("aria-label", "About " + what.value.name);
      card.showPopover();
      card.scrollTop = 0;
      shown = link;
      if (byKey) { Object.entries({ "aria-haspopup": "dialog", "aria-keyshortcuts": "ArrowRight" }).forEach((fact) => link.setAttribute(...fact)); }
      put(spot || link);
    });
  }
  function put(spot) { // under the number where it fits, else over it, else where there is more room, and no higher than that: never on the number
    card.style.maxHeight = "";
    const box = spot.getBoundingClientRect(), wide = card.offsetWidth, below = innerHeight - box.bottom - 12, above = box.top - 12;
    const under = card.offsetHeight < below || (card.offsetHeight > above && below > above), room = Math.max(under ? below : above, LEAST);
    if (card.offsetHeight > room) { card.style.maxHeight = room + "px"; }
    card.style.left = Math.max(8, Math.min(box.left, innerWidth - wide - 8)) + "px";
    card.style.top = (under ? box.bottom + 4 : box.top - card.offsetHeight - 4) + "px";
  }
  function held() { return document.activeElement === shown || card.contains(document.activeElement); } // by keyboard
  function hide() { clearTimeout(timer); if (card.matches(":popover-open")) { card.hidePopover(); } }
  function later(action) { clearTimeout(timer); timer = setTimeout(action, 250); }
  function back(to) { quiet = true; to.focus(); quiet = false; }
  function within(event, selector) { return event.target.closest && event.target.closest(selector); }
  if (card && card.showPopover) {
    card.setAttribute("role", "dialog");
    document.addEventListener("mouseover", (event) => {
      const link = within(event, quantity), row = !link && rowLink(event);
      if (link || row) { later(() => show(link || row, link ? (link.matches(".row") ? null : link) : event.target.closest("td"), false)); }
      else if (within(event, "#card")) { clearTimeout(timer); }
      else if (card.matches(":popover-open") && !held()) { later(hide); } else { clearTimeout(timer); }
    });
    document.addEventListener("focusin", (event) => {
      const link = within(event, quantity);
      if (quiet || within(event, "#card")) { return; }
      if (link && !link.closest("dialog")) { show(link, link.matches(".row") ? null : link, true); } else { hide(); }
    });
    document.addEventListener("keydown", (event) => {
      if (!card.matches(":popover-open")) { return; }
      if (event.key === "Escape") { if (card.contains(document.activeElement)) { back(shown); } hide(); }
      if (event.key === "ArrowRight" && document.activeElement === shown) { card.querySelector("a, button").focus(); event.preventDefault(); }
    });
    document.addEventListener("scroll", () => { // the tab key brings its number into view and scrolls for it
      if (document.activeElement === shown && card.matches(":popover-open")) { put(shown); } else if (!held()) { hide(); }
    }, { passive: true });
  }

  // ---- links to copy ----
  function copied(text) {
    const field = make("textarea", { class: "spoken", readonly: "" }, text), place = (document.activeElement || document.body).closest("dialog, #card, body");
    const plain = () => {
      place.append(field); field.select();
      const done = document.execCommand("copy");
      field.remove();
      return done;
    };
    return navigator.clipboard ? navigator.clipboard.writeText(text).then(() => true, plain) : Promise.resolve(plain());
  }
  function copier(href) {
    const made = button("Copy link", (event) => {
      const own = event.currentTarget;
      copied(href).then((done) => {
        own.textContent = done ? "Copied" : "Not copied"; own.dataset.sign = done ? "✓" : "✗";
        own.focus();
        tell(done ? "Link copied" : "The link could not be copied: " + href);
        setTimeout(() => { own.textContent = "Copy link"; own.dataset.sign = "#"; }, 2000);
      });
    });
    made.dataset.sign = "#"; // what it shows where there is no room for words
    return made;
  }

  // ---- beside headings and workings ----
  function shownIn(section, focus) {
    graphOf(location).then((graph) => {
      const what = found(graph, new URL("#" + section.id, location));
      if (!what || !what.chosen || section.querySelector(".shown")) { return; }
      const [first, ...others] = placed(graph, what.value, "");
      const line = make("p", { class: "shown", tabindex: "-1" }, first ? ["Shown in ", first, others.length ? ", also in " : "", between(others, ", ")]
        : "No chapter places it among its words.");
      section.querySelector(".tools").after(line);
      if (focus) { (first || line).focus(); }
    });
  }
  function pathOf(section, from) { graphOf(location).then((graph) => { const what = found(graph, new URL("#" + section.id, location)); if (what) { openPath(what.value, from); } }); }
  function dress() {
    const option = /\/option-[^\/]*$/.test(location.pathname);
    main.querySelectorAll("h2[id]:not(.cover h2), section[id] > h3").forEach((heading) => {
      const section = heading.parentNode.matches("section") ? heading.parentNode : null, href = location.href.split("#")[0] + "#" + (heading.id || section.id);
      const more = section && !option ? [button("Path", (event) => pathOf(section, event.currentTarget)), button("Shown in", () => shownIn(section, true))] : [];
      const tools = make("div", { class: "tools", role: "toolbar", "aria-label": heading.textContent.trim() }, [...more, copier(href)]);
      [...tools.children].slice(1).forEach((one) => { one.tabIndex = -1; }); // one stop of the tab key, arrows lead on
      heading.after(tools);
    });
    main.addEventListener("keydown", (event) => {
      const other = within(event, "[role=toolbar]") && { ArrowRight: "nextSibling", ArrowLeft: "previousSibling" }[event.key], next = other && event.target[other];
      if (next) { event.target.tabIndex = -1; next.tabIndex = 0; next.focus(); event.preventDefault(); }
    });
  }
  function arrive() {
    const id = decodeURIComponent(location.hash.slice(1)), section = id && document.getElementById(id);
    if (section && section.matches("section") && section.querySelector(".tools")) { shownIn(section, false); }
    if (!id.startsWith("shown-")) { return; }
    const sought = CSS.escape("#" + id.slice(6)), link = main.querySelector(`a[href$="${sought}"], a[href*="${sought}\\."]`);
    if (!link) { return; }
    for (let box = link.closest("details"); box; box = box.parentNode.closest("details")) { box.open = true; }
    link.classList.add("here");
    back(link);
    link.scrollIntoView({ block: "center" });
  }
  if (main) { dress(); arrive(); addEventListener("hashchange", arrive); }

  // ---- the path: what leads to a number and what it leads to, layer by layer ----
  function openPath(value, from) {
    hide();
    const status = make("p", { class: "path-said", role: "status" }), layers = make("div", { class: "layers", tabindex: "0", role: "group", "aria-label": "Layers" });
    const root = make("div", { class: "node root" }, told(value));
    const sides = Object.entries(ways).map(([way, words]) => side(value, way, words, layers, status));
    const close = () => { dialog.close(); dialog.remove(); back(from); };
    const dialog = make("dialog", { class: "path md-typeset", "aria-labelledby": "path-title" },
      make("div", { class: "head" }, make("h2", { id: "path-title" }, "Path of " + value.name), button("Close", close)),
      make("div", { class: "steps" }, sides.map((one) => one.further)), status, layers);
    layers.append(sides[0].box, root, sides[1].box);
    dialog.addEventListener("cancel", (event) => { event.preventDefault(); close(); });
    document.body.append(dialog);
    dialog.showModal();
    layers.scrollLeft = root.offsetLeft - (layers.clientWidth - root.offsetWidth) / 2;
  }
  function side(value, way, words, layers, status) {
    const stands = new Map(), box = make("section", { class: way, "aria-label": words.title }, make("h3", {}, words.title)), next = words.next(value);
    const further = button("", () => {
      const some = closed(), layer = some.length && depth(some[0]);
      some.filter((one) => depth(one) === layer).forEach((one) => one.click());
      if (some.length) { seen(some[0].closest("li").querySelector("li") || some[0]); }
      status.textContent = some.length ? words.title + ": layer " + (layer + 1) + " is open" : "";
      label();
    });
    function seen(one) { one.scrollIntoView({ block: "nearest", inline: "nearest" }); }
    function depth(one) { return Number(one.closest("li").dataset.layer); }
    function closed() { return [...box.querySelectorAll(".open[aria-expanded=false]")].sort((a, b) => depth(a) - depth(b)); }
    function label() {
      const some = closed();
      further.textContent = words.title + (some.length ? ": open layer " + (depth(some[0]) + 1) : ": all open");
      further.setAttribute("aria-disabled", String(!some.length));
    }
    function list(nodes, layer) {
      const made = make("ul"), add = (some) => made.append(...some.map((one) => item(one, layer)));
      add(nodes.slice(0, MANY));
      if (nodes.length > MANY) {
        const more = button(nodes.length - MANY + " more", () => {
          const last = more.parentNode.previousSibling;
          more.parentNode.remove();
          add(nodes.slice(MANY));
          last.nextSibling.querySelector("a").focus();
          label();
        });
        made.append(make("li", { class: "more" }, more));
      }
      return made;
    }
    function item(node, layer) {
      const after = words.next(node), before = stands.get(node), box = make("div", { class: "node" }, told(node));
      const line = make("li", { "data-layer": layer }, box);
      if (before && before.isConnected) { // stands already: opened there, not twice
        if (after.length) { box.append(button("stands already", () => visit(node, line, layer))); }
        line.className = "again";
        return line;
      }
      stands.set(node, line);
      if (after.length) {
        const name = make("span", { class: "spoken" }, ": " + node.name);
        box.append(button([words.word + " " + after.length, name], (event) => toggle(event.currentTarget, line, after, layer), { class: "open", "aria-expanded": "false" }));
      }
      return line;
    }
    function visit(node, line, layer) {
      const before = stands.get(node), there = before.isConnected ? before : item(node, layer);
      if (there !== before) { line.replaceWith(there); label(); }
      there.querySelector("a").focus();
      seen(there);
    }
    function toggle(opener, line, after, layer) {
      const open = opener.getAttribute("aria-expanded") === "false", left = opener.getBoundingClientRect().left;
      opener.setAttribute("aria-expanded", String(open));
      if (open) { line.append(list(after, layer + 1)); } else { line.querySelector("ul").remove(); }
      layers.scrollLeft += opener.getBoundingClientRect().left - left;
      if (open && document.activeElement === opener) { seen(line.querySelector("li")); }
      label();
    }
    box.append(next.length ? list(next, 1) : make("p", {}, words.none));
    label();
    return { box: box, further: further };
  }
})();

// Search in a book: pages and what they say, values with their numbers, items, checks, sources, requirements, questions, decisions. What can be found comes from
// `search-index.js` of each book (made by basis/site/search_index.py). Both are loaded when the field first gets focus. Every page works without this file.
(function () {
  "use strict";
  var field = document.querySelector("input[data-books]"), root = document.documentElement;
  if (!field) { return; }
  var list = document.getElementById("found"), told = document.createElement("output");
  var folders = field.dataset.books.split(" "), several = folders.length > 1, records = [], words = {}, known = [], waiting = null, active = -1;
  var SHOWN = 12;

  // ---- how well a word of a thing fits the word asked for, and what it counts where it stands; the same ladder as of `basis find` ----
  var SAME = 1, PLURAL = 0.9, BEGINS = 0.6, OTHER = 0.7, NEAR = 0.3, SHORTEST = 4;
  var OF_NAME = 30, OF_ID = 26, OF_HEADING = 24, OF_UNIT = 36, OF_SYMBOL = 60, OF_CHAPTER = 5, OF_KIND = 5, OF_WORDS = 8, WHOLE = 40, TURNED = 8, PHRASE = 8, COVERED = 14, RESTS = 2.5;
  var KIND = { page: 14, option: 0, section: 2, value: 4, check: 2, source: 0, item: 3, working: 6 };
  var TRADE = { // words of the trade for which the books have another
    genset: "set", gensets: "set", muffler: "silencer", mufflers: "silencer", ground: "earth", grounding: "earthing", grounded: "earthed", louver: "opening",
    louvers: "opening", louvre: "opening", louvres: "opening", max: "highest", maximum: "highest", min: "lowest", minimum: "lowest", maintenance: "upkeep",
    mains: "supply", utility: "supply", sound: "noise", paralleling: "synchronising", synchronizing: "synchronising", excel: "data", spreadsheet: "data",
    requirement: "compliance", requirements: "compliance"
  };
  var UNITS = { rpm: "r/min", gal: "usgal", gallons: "usgal", gpm: "usgal/min", litres: "l", liters: "l", "m3/hr": "m3/h", fpm: "ft/min", hours: "h" };
  var SMALL = ["a", "an", "and", "at", "for", "in", "is", "of", "on", "the", "to"]; // words that nobody looks for

  // ---- what stands in the index ----
  function plain(text) { return text.normalize("NFKD").replace(/[\u0300-\u036f]/g, "").replace(/[′']{2}|[″"]/g, "″").replace(/[′']/g, "′").replace(/[·^()_{}\s]/g, ""); }
  function split(text) { return text.toLowerCase().normalize("NFKD").replace(/[\u0300-\u036f]/g, "").match(/[^\W_]+|[\u0370-\u03ff]+/g) || []; }
  function long(id, title) { // ids are written short: a capital letter for a word of the title
    var own = title.toLowerCase().match(/[\p{L}\p{N}]+/gu) || [];
    return id.replace(/[A-Z]/g, function (letter) { return own[letter.charCodeAt(0) - 65]; });
  }
  function slug(text) { return text.normalize("NFKD").replace(/[^\x00-\x7f]/g, "").toLowerCase().replace(/[^\w\s-]/g, "").trim().replace(/[-\s]+/g, "-"); }
  function typed(text) { return text.replace(/(\d)'(?=\d)/g, "$1\u202f").replace(/(^|\s)-(?=\d)/g, "$1−"); }
  function add(record, fields) {
    var place = records.push(record) - 1;
    record.names = split(record.title).length;
    fields.forEach(function (field) {
      split(field[0]).concat((field[0].match(/\p{L}+-\p{L}+/gu) || []).map(function (pair) { return pair.toLowerCase().replace("-", ""); })).forEach(function (word) {
        var have = Object.prototype.hasOwnProperty.call(words, word) ? words[word] : words[word] = new Map();
        have.set(place, Math.max(have.get(place) || 0, field[1]));
      });
    });
  }
  window.basisIndex = function (book) {
    var columns = book.values.map(function (column) { return column.split("\n"); }), row = 0, values = [];
    function where(page, id) { return field.dataset.root + book.slug + "/" + page + ".html" + (id ? "#" + id : ""); }
    function amount(place) {
      return function () {
        var units = book.units[values[place].units], us = root.dataset.units === "us" && units.length > 1;
        var number = typed(columns[us ? 5 : 4][values[place].row]), unit = units[us ? 1 : 0];
        return number + (unit ? (/values$/.test(number) ? ", " : " ") + unit : "");
      };
    }
    var titles = book.chapters.map(function (chapter) { return chapter[1]; }), ofPage = {};
    book.chapters.forEach(function (chapter) { ofPage[chapter[0]] = chapter[1]; });
    book.parts.forEach(function (part) {
      var id = book.chapters[part[0]][0], title = titles[part[0]], page = id + "-" + part[1], called = book.workings[part[1]];
      add({ book: book, kind: "working", title: title + ": " + called.toLowerCase(), at: where(page), about: "page" }, [[title, OF_NAME], [called, OF_NAME]]);
      for (var end = row + part[2]; row < end; row += 1) {
        var name = columns[1][row], own = long(columns[0][row], name), units = book.units[columns[6][row]];
        values.push({ row: row, units: columns[6][row], page: page, id: own });
        add({ book: book, kind: "value", id: own, title: name, symbol: columns[2][row], units: units.map(plain), rests: +columns[3][row], value: amount(row), at: where(page, own),
              about: title + (columns[2][row] ? ", " + columns[2][row] : "") }, [[name, OF_NAME], [own.replace(/_/g, " "), OF_ID], [title, OF_CHAPTER]]);
      }
    });
    var byId = {};
    values.forEach(function (value) { byId[value.id] = value; });
    book.pages.forEach(function (page) {
      var file = page[0].replace(/\.html$/, ""), chapter = ofPage[file];
      page[3].forEach(function (section) {
        function spoken() { return section[2].replace(/\{(\d+)\}/g, function (whole, place) { return amount(+place)(); }); }
        if (section[1]) {
          add({ book: book, kind: "section", title: section[1], words: spoken, at: where(file, section[0] || slug(section[1])), about: page[1] },
              [[section[1], OF_HEADING], [section[2].replace(/\{\d+\}/g, ""), OF_WORDS], [page[1], OF_CHAPTER]]);
        }
      });
      var lead = page[3].filter(function (section) { return !section[1]; }).map(function (section) { return section[2]; }).join(" ");
      add({ book: book, kind: /^option-/.test(file) ? "option" : "page", title: page[1], at: where(file), words: function () { return page[2]; }, about: chapter ? "chapter" : "page" },
          [[page[1], OF_NAME], [file.replace(/_/g, " "), OF_ID], [page[2], OF_HEADING / 2], [lead.replace(/\{\d+\}/g, ""), OF_WORDS]]);
    });
    book.items.forEach(function (part) {
      part[2].forEach(function (item) {
        add({ book: book, kind: "item", title: item[1], at: where(byId[part[0]].page, part[0] + "." + long(item[0], item[1])), about: "one of the " + part[1] },
            [[item[1], OF_NAME], [part[1], OF_KIND]]);
      });
    });
    function check(page, chapter) {
      return function (one) {
        var id = long(one[0], one[1]);
        add({ book: book, kind: "check", id: id, title: one[1], value: function () { return one[2]; }, at: where(page, "check-" + id), about: "check" + (chapter ? ", " + chapter : "") },
            [[one[1], OF_NAME], [id.replace(/_/g, " "), OF_ID], ["check " + chapter, OF_KIND]]);
      };
    }
    book.checks.forEach(function (part) { part[1].forEach(check("checks", titles[part[0]])); });
    book.selfTests.forEach(check("self-tests", "self-test of the program"));
    book.sources.forEach(function (source) {
      source[1].forEach(function (one) {
        add({ book: book, kind: "source", title: source[0] + (one[1] ? ", " + one[1] : ""), at: where("sources", "source-" + one[0]), about: "source" },
            [[source[0], OF_NAME], [one[1], OF_NAME], ["source", OF_KIND]]);
      });
    });
    book.asked.forEach(function (one) {
      add({ book: book, kind: "asked", title: one[2], at: where(one[0], one[1]), about: one[3] }, [[one[2], OF_NAME], [one[3], OF_KIND]]);
    });
    known = Object.keys(words);
  };
  function load() {
    waiting = waiting || Promise.all(folders.map(function (folder) {
      return new Promise(function (done) {
        var script = document.createElement("script");
        script.src = folder + "search-index.js"; script.onload = done; script.onerror = done;
        document.head.appendChild(script);
      });
    }));
    return waiting;
  }

  // ---- what fits ----
  function singular(word) {
    if (word.length < SHORTEST || /ss$/.test(word)) { return word; }
    return /ies$/.test(word) ? word.slice(0, -3) + "y" : /(ss|x|ch|sh)es$/.test(word) ? word.slice(0, -2) : word.replace(/s$/, "");
  }
  function oneApart(one, other) { // a letter wrong, missing, too many, or two that stand beside each other swapped
    if (Math.min(one.length, other.length) < SHORTEST || Math.abs(one.length - other.length) > 1) { return false; }
    var start = 0;
    while (start < one.length && one[start] === other[start]) { start += 1; }
    var left = one.slice(start), right = other.slice(start);
    if (left.length !== right.length) { return left.length > right.length ? left.slice(1) === right : left === right.slice(1); }
    return left.slice(1) === right.slice(1) || (left.slice(2) === right.slice(2) && left[0] === right[1] && left[1] === right[0]);
  }
  function alike(asked, word) {
    if (asked === word) { return SAME; }
    if (singular(asked) === singular(word)) { return PLURAL; }
    if (asked.length > 1 && word.indexOf(asked) === 0) { return BEGINS; }
    return oneApart(asked, word) || oneApart(singular(asked), singular(word)) ? NEAR : 0;
  }
  function better(found, place, score) { if (score > (found.get(place) || 0)) { found.set(place, score); } }
  function fitsWord(asked) {
    var found = new Map();
    [[asked, 1], [TRADE[asked], OTHER]].forEach(function (way) {
      if (!way[0]) { return; }
      known.forEach(function (word) {
        var share = alike(way[0], word) * way[1];
        if (share) { words[word].forEach(function (weight, place) { better(found, place, share * weight); }); }
      });
    });
    return found;
  }
  function both(one, other) { // what fits two parts of one word
    var found = new Map();
    one.forEach(function (score, place) { if (other.has(place)) { found.set(place, score + other.get(place)); } });
    return found;
  }
  function fits(text) {
    var parts = split(text).reduce(function (have, part) {
      return have.concat(Object.prototype.hasOwnProperty.call(words, part) ? part : part.match(/^[a-z]+(?=\d+$)|\d+$/g) && /^[a-z]+\d+$/.test(part) ? part.match(/[a-z]+|\d+/g) : part);
    }, []);
    var found = parts.length ? parts.map(fitsWord).reduce(both) : new Map(), sign = plain(text), small = sign.toLowerCase(), unit = UNITS[small] || small;
    records.forEach(function (record, place) {
      if (record.kind !== "value") { return; }
      var symbol = plain(record.symbol);
      if (symbol && symbol === sign) { better(found, place, OF_SYMBOL); } else if (symbol && symbol.toLowerCase() === small && small.length > 1) { better(found, place, OF_SYMBOL / 2); }
      if (small && record.units.some(function (one) { one = one.toLowerCase(); return one === small || one === unit; })) { better(found, place, OF_UNIT); }
    });
    return found;
  }
  function spoken(text) { return split(text).map(singular).join(" "); }
  function without(text) { return text.split(" ").filter(function (word) { return SMALL.indexOf(word) < 0; }).join(" "); }
  function covered(own, bare) { // part of the words of a title that was asked for
    var asked = own.split(" "), title = bare.split(" ");
    return title.filter(function (word) { return asked.some(function (one) { return alike(one, word) || (TRADE[one] && alike(TRADE[one], word)); }); }).length / title.length;
  }
  function ranked(text) {
    var asked = text.split(/\s+/).filter(Boolean), told = asked.filter(function (word) { return SMALL.indexOf(word.toLowerCase()) < 0; });
    asked = told.length ? told : asked;
    var sums = new Map(), counts = new Map();
    asked.forEach(function (word) {
      fits(word).forEach(function (score, place) { sums.set(place, (sums.get(place) || 0) + score); counts.set(place, (counts.get(place) || 0) + 1); });
    });
    var most = Math.max.apply(null, [0].concat(Array.from(counts.values()))), phrase = spoken(text), own = spoken(asked.join(" ")), hits = [];
    sums.forEach(function (sum, place) {
      if (counts.get(place) < most) { return; }
      var record = records[place], title = spoken(record.title), bare = without(title), whole = title === phrase || record.id === text.trim();
      hits.push([sum / Math.sqrt(asked.length) + (whole ? WHOLE : bare === own ? TURNED : 0) + (title.indexOf(phrase) === 0 ? PHRASE : title.indexOf(phrase) > 0 ? PHRASE / 2 : 0) +
        COVERED * covered(own, bare) + (KIND[record.kind] || 0) + (record.rests || 0) * RESTS, record]);
    });
    return hits.sort(function (a, b) { return b[0] - a[0]; }).map(function (hit) { return hit[1]; });
  }

  // ---- the field and its list ----
  function part(name, text, inside) { var made = document.createElement(name); made.textContent = text; inside.appendChild(made); return made; }
  function excerpt(text, asked) { // the sentence that holds what is asked
    var sentences = text.split(/(?<=[.;:])\s+/), own = split(asked);
    var held = sentences.map(function (sentence) { var have = split(sentence); return own.filter(function (word) { return have.some(function (one) { return alike(word, one); }); }).length; });
    return sentences[held.indexOf(Math.max.apply(null, held))].replace(/[;:]$/, " …");
  }
  function find() {
    var text = field.value.trim(), hits = text ? ranked(text) : [];
    list.textContent = ""; active = -1; field.removeAttribute("aria-activedescendant");
    hits.slice(0, SHOWN).forEach(function (hit, number) {
      var item = part("li", "", list), link = part("a", "", item);
      item.setAttribute("role", "none"); link.id = "found-" + number; link.setAttribute("role", "option");
      link.href = hit.at; link.tabIndex = -1;
      part("span", hit.title, link);
      if (hit.value) { part("b", hit.value(), link); }
      part("small", (several ? hit.book.name + ": " : "") + hit.about, link);
      if (hit.words) { part("small", excerpt(hit.words(), text), link); }
    });
    if (text && !hits.length) { var none = part("li", "Nothing found", list); none.setAttribute("role", "option"); none.setAttribute("aria-disabled", "true"); }
    list.hidden = !text;
    field.setAttribute("aria-expanded", String(!list.hidden));
    told.textContent = !text ? "" : hits.length > SHOWN ? "The best " + SHOWN + " of " + hits.length + " found" : hits.length ? hits.length + " found" : "Nothing found";
  }
  function step(by) {
    var items = list.querySelectorAll("a");
    if (!items.length || list.hidden) { return; }
    active = active < 0 && by < 0 ? items.length - 1 : (active + by + items.length) % items.length;
    items.forEach(function (item, number) { item.setAttribute("aria-selected", String(number === active)); });
    field.setAttribute("aria-activedescendant", items[active].id);
    items[active].scrollIntoView({ block: "nearest" });
  }
  function shut() { list.hidden = true; active = -1; field.setAttribute("aria-expanded", "false"); field.removeAttribute("aria-activedescendant"); }
  told.setAttribute("role", "status");
  field.parentNode.appendChild(told);
  field.addEventListener("input", function () { load().then(find); });
  field.addEventListener("keydown", function (event) {
    if (event.key === "ArrowDown" || event.key === "ArrowUp") { step(event.key === "ArrowDown" ? 1 : -1); event.preventDefault(); }
    if (event.key === "Enter") { var link = list.querySelectorAll("a")[Math.max(active, 0)]; if (link && !list.hidden) { shut(); location.href = link.href; } event.preventDefault(); }
    if (event.key === "Escape" && !list.hidden) { shut(); event.preventDefault(); }
  });
  document.addEventListener("click", function (event) { if (!event.target.closest(".find")) { shut(); } });
  load().then(function () { if (field.value) { find(); } }); // of what was typed before this was here
})();

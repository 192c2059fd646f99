// What these pages need of the theme's own script, which is not shipped: light or dark, and what is folded away open on paper and where a link leads into it.
(function () {
  "use strict";
  const body = document.body, button = document.querySelector("button.half"), asked = matchMedia("(prefers-color-scheme: dark)");
  function show(dark) {
    body.dataset.mdColorScheme = dark ? "slate" : "default";
    if (button) { button.setAttribute("aria-pressed", String(dark)); }
  }
  function chosen() { try { return localStorage.getItem("basis.page"); } catch (refused) { return null; } }
  if (button) {
    button.addEventListener("click", () => {
      const dark = body.dataset.mdColorScheme !== "slate";
      show(dark);
      try { localStorage.setItem("basis.page", dark ? "dark" : "light"); } catch (refused) { /* a private window: for this page only */ }
    });
  }
  asked.addEventListener("change", () => { if (!chosen()) { show(asked.matches); } });
  show(body.dataset.mdColorScheme === "slate");

  function reveal() { // what an address names, in whatever is folded round it
    const named = location.hash && document.getElementById(decodeURIComponent(location.hash.slice(1)));
    let folded = false;
    for (let box = named && named.closest("details"); box; box = box.parentNode.closest("details")) { folded = folded || !box.open; box.open = true; }
    if (folded) { named.scrollIntoView(); }
  }
  addEventListener("hashchange", reveal);
  reveal();

  let opened = [];
  addEventListener("beforeprint", () => { opened = [...document.querySelectorAll("details:not([open])")]; opened.forEach((one) => { one.open = true; }); });
  addEventListener("afterprint", () => { opened.forEach((one) => { one.open = false; }); opened = []; });
})();

// Keyboard: the drawer of contents on a narrow page opens by a button and shuts by Escape; a box takes the focus only where it scrolls.
(function () {
  "use strict";
  const drawer = document.getElementById("__drawer"), opener = document.querySelector("button.opener"), side = document.querySelector(".md-sidebar--primary");
  const behind = document.querySelectorAll(".md-content, .md-sidebar--secondary, .foot");
  function told() {
    opener.setAttribute("aria-expanded", String(drawer.checked));
    behind.forEach((one) => { one.inert = drawer.checked; });
  }
  function turn(open) {
    drawer.checked = open;
    told();
    (open ? side.querySelector("a") : opener).focus();
  }
  if (opener && side) {
    opener.addEventListener("click", () => turn(!drawer.checked));
    drawer.addEventListener("change", told); // by a tap beside it, or by the theme
    document.addEventListener("keydown", (event) => { if (event.key === "Escape" && drawer.checked) { turn(false); } });
    matchMedia("(min-width: 76.25em)").addEventListener("change", () => { drawer.checked = false; told(); });
  }

  const boxes = document.querySelectorAll(".wide[role], .working[role]");
  function fit(box) {
    if (box.scrollWidth > box.clientWidth + 1) { box.tabIndex = 0; } else { box.removeAttribute("tabindex"); }
  }
  const sizes = new ResizeObserver((all) => all.forEach((one) => fit(one.target)));
  boxes.forEach((box) => sizes.observe(box));
  function refit() { boxes.forEach(fit); } // what a box holds may change where the box does not
  document.fonts.ready.then(refit);
  document.addEventListener("click", (event) => { if (event.target.closest("button[data-units]")) { refit(); } });
})();

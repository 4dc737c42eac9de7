// The drawing beside the form: which view is shown, which measure is lit, and which one was touched.

const NEAR = 28; // a finger's width round a thin line [px]
let lit = "";

export function draw(drawings) {
  for (const place of document.querySelectorAll(".drawing")) {
    const svg = drawings[place.dataset.view] ?? "";
    if (place.svg !== svg) { place.innerHTML = svg; place.svg = svg; }
    button(place.dataset.view).disabled = !svg;
  }
  light(lit);
}

export function light(id) {
  lit = id;
  for (const group of document.querySelectorAll(".drawing .lit")) group.classList.remove("lit");
  if (id) for (const group of document.querySelectorAll(`.drawing .m-${CSS.escape(id)}`)) group.classList.add("lit");
}

export function look(view) {
  if (button(view)?.disabled) return;
  for (const one of document.querySelectorAll(".view")) one.setAttribute("aria-pressed", String(one.dataset.view === view));
  for (const place of document.querySelectorAll(".drawing")) place.toggleAttribute("data-away", place.dataset.view !== view);
}

function button(view) {
  return document.querySelector(`.view[data-view="${view}"]`);
}

// Calls touched(id) with the field whose dimension, or the opening whose outline, lies nearest to a touch.
export function watch(touched) {
  document.querySelector(".views")?.addEventListener("click", (event) => {
    const view = event.target.closest(".view")?.dataset.view;
    if (view) look(view);
  });
  document.querySelector(".drawn")?.addEventListener("click", (event) => {
    const name = nearest(event);
    if (name) touched(name.startsWith("go-") ? `${name.slice(3)}-left` : name.slice(2));
  });
}

function nearest({ target, clientX, clientY }) {
  let best = "", least = NEAR;
  for (const group of target.closest(".drawing")?.querySelectorAll("g[class*='m-'], g[class*='go-']") ?? []) {
    for (const mark of group.children) {
      const at = mark.getBoundingClientRect();
      const aside = Math.max(at.left - clientX, 0, clientX - at.right), above = Math.max(at.top - clientY, 0, clientY - at.bottom);
      const away = Math.hypot(aside, above) + (mark.tagName === "text" ? 0 : 4); // a figure before a line
      if (away < least) { best = [...group.classList].find((one) => /^(m|go)-/.test(one)); least = away; }
    }
  }
  return best;
}

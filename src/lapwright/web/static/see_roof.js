// The roof seen from above: moved and enlarged by wheel, fingers, buttons or keys; a touched piece tells what it is.

const STEP = 1.3, MOST = 40, SHIFT = 0.12, TAP = 6; // a press's enlargement, the most, a press's shift, a tap's reach [px]

const plane = document.querySelector(".plane"), svg = plane.querySelector("svg");
const whole = svg.viewBox.baseVal, home = { x: whole.x, y: whole.y, w: whole.width, h: whole.height };
const rows = new Map([...document.querySelectorAll("[data-for]")].map((row) => [row.dataset.for, row]));
const told = document.querySelector(".told"), fingers = new Map();
let view = { ...home }, moved = 0;

function show(next) {
  const w = Math.min(Math.max(next.w, home.w / MOST), home.w), h = (w * home.h) / home.w;
  // the roof never leaves the picture
  const x = Math.min(Math.max(next.x, home.x), home.x + home.w - w), y = Math.min(Math.max(next.y, home.y), home.y + home.h - h);
  view = { x, y, w, h };
  svg.setAttribute("viewBox", `${x} ${y} ${w} ${h}`);
}

function at(clientX, clientY) {
  const p = new DOMPoint(clientX, clientY).matrixTransform(svg.getScreenCTM().inverse());
  return [p.x, p.y];
}

// Enlarged about a place that stays where it is.
function enlarge(by, place = [view.x + view.w / 2, view.y + view.h / 2]) {
  const w = Math.min(Math.max(view.w / by, home.w / MOST), home.w), k = w / view.w;
  show({ x: place[0] - (place[0] - view.x) * k, y: place[1] - (place[1] - view.y) * k, w });
}

function zoom(how) {
  if (how === "all") show(home);
  else enlarge(how === "in" ? STEP : 1 / STEP);
}

function light(id) {
  svg.querySelectorAll(".lit").forEach((one) => one.remove());
  const row = rows.get(id);
  for (const shape of svg.querySelectorAll(`[data-piece="${CSS.escape(id)}"]`)) {
    const over = shape.cloneNode();
    over.removeAttribute("data-piece");
    over.classList.add("lit");
    svg.append(over);
  }
  if (!row) return;
  for (const [other, one] of rows) one.open = other === id;
  const name = row.querySelector("summary").cloneNode(true), head = document.createElement("p");
  head.append(...name.childNodes);
  told.replaceChildren(head, row.querySelector(".card").cloneNode(true));
}

plane.addEventListener("wheel", (event) => {
  event.preventDefault();
  enlarge(Math.exp(-event.deltaY / 400), at(event.clientX, event.clientY));
}, { passive: false });

plane.addEventListener("pointerdown", (event) => {
  if (!fingers.size) moved = 0;
  fingers.set(event.pointerId, [event.clientX, event.clientY]);
});

plane.addEventListener("pointermove", (event) => {
  const last = fingers.get(event.pointerId);
  if (!last) return;
  const now = [event.clientX, event.clientY], other = [...fingers].find(([id]) => id !== event.pointerId)?.[1];
  moved += Math.hypot(now[0] - last[0], now[1] - last[1]);
  if (moved > TAP && !plane.hasPointerCapture(event.pointerId)) plane.setPointerCapture(event.pointerId);
  if (other) {
    const before = Math.hypot(last[0] - other[0], last[1] - other[1]), after = Math.hypot(now[0] - other[0], now[1] - other[1]);
    enlarge(after / Math.max(before, 1), at((now[0] + other[0]) / 2, (now[1] + other[1]) / 2));
  } else if (moved > TAP) {
    const a = at(...last), b = at(...now);
    show({ ...view, x: view.x + a[0] - b[0], y: view.y + a[1] - b[1] });
  }
  fingers.set(event.pointerId, now);
});

for (const end of ["pointerup", "pointercancel"]) {
  plane.addEventListener(end, (event) => {
    const one = fingers.size === 1 && fingers.delete(event.pointerId);
    fingers.delete(event.pointerId);
    if (end !== "pointerup" || !one || moved > TAP) return;
    const id = document.elementFromPoint(event.clientX, event.clientY)?.dataset?.piece;
    if (id) light(id);
  });
}

plane.addEventListener("keydown", (event) => {
  const by = SHIFT * view.w;
  const moves = { ArrowLeft: [-by, 0], ArrowRight: [by, 0], ArrowUp: [0, -by], ArrowDown: [0, by] };
  if (moves[event.key]) show({ ...view, x: view.x + moves[event.key][0], y: view.y + moves[event.key][1] });
  else if (event.key === "+" || event.key === "=") zoom("in");
  else if (event.key === "-") zoom("out");
  else if (event.key === "0") zoom("all");
  else return;
  event.preventDefault();
});

for (const button of document.querySelectorAll("[data-zoom]")) button.addEventListener("click", () => zoom(button.dataset.zoom));
document.querySelector(".tools").hidden = false;
for (const [id, row] of rows) row.querySelector("summary").addEventListener("click", () => { if (!row.open) light(id); });
const asked = document.querySelector("#roof").dataset.lit;
if (asked) light(asked);

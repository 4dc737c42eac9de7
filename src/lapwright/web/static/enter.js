// Measure. Every change goes to the server as it is typed, one at a time and the newest first in line; what
// has not been acknowledged stays on this device too, and is sent again until it has.

import { draw, light, look, watch as watchDrawing } from "./seen.js";
import { height as padHeight, open as openPad, prepare, watch as watchPad } from "./keypad.js";

const job = document.body.dataset.job;
const store = `lapwright:${job}`;
const say = JSON.parse(document.getElementById("words").textContent);
const $ = (id) => document.getElementById(id);
const isMac = /Mac|iP/.test(navigator.platform);
let revision = Number(document.body.dataset.revision);
let opening = 0;
let busy = false; // one request at a time changes what the page shows
let again = 0; // a revision since which the page is to be brought up to date
let wait = 0;
let timer = 0;
let stopsTimer = 0;
const waiting = new Map(); // id -> {path, typed, base, sent, theirs, refused, clash}
const stuck = (entry) => entry.refused || entry.clash !== undefined;

// What is waiting to be saved lies on this device until it is.

function keep() {
  try {
    if (waiting.size) localStorage.setItem(store, JSON.stringify([...waiting]));
    else localStorage.removeItem(store);
  } catch { /* a browser without storage still saves to the server */ }
}

function kept() {
  try { return JSON.parse(localStorage.getItem(store) ?? "[]"); } catch { return []; }
}

// Fields.

const box = (id) => $(`w-${id}`);
const idOf = (field) => field.id.slice(2);
const fieldOf = (element) => element.closest?.(".field") ?? null;
const controls = () => [...document.querySelectorAll(".form .field:not([hidden])")]
  .filter((field) => field.offsetParent).map(control).filter(Boolean);

function control(field) {
  return field.querySelector("input[type=radio]:checked") ?? field.querySelector("input, select");
}

function typedIn(field) {
  const picks = field.querySelector(".options");
  return picks ? picks.querySelector(":checked")?.value ?? "" : control(field).value;
}

function put(field, typed, chosen) {
  const picks = field.querySelector(".options");
  if (picks) {
    for (const radio of picks.querySelectorAll("input")) radio.checked = radio.value === chosen;
    return;
  }
  const own = control(field);
  if (own.tagName !== "SELECT") { own.value = typed; return; }
  if (![...own.options].some((option) => option.value === chosen)) own.add(new Option(typed, chosen), 0);
  own.value = chosen;
}

function show(one) {
  const field = box(one.id);
  if (!field) return;
  const entry = waiting.get(one.id);
  field.dataset.now = one.typed;
  if (!entry && !(document.activeElement === control(field) && typedIn(field).trim() === one.typed)) {
    put(field, one.typed, one.chosen);
  }
  field.hidden = !one.shown;
  field.classList.toggle("is-wanted", one.wanted);
  if (!entry || !stuck(entry)) message(field, one.error);
  field.querySelector(".echo").textContent = one.echo;
  field.querySelector(".range").textContent = one.range;
  const own = field.querySelector("input[type=text]");
  if (own) own.placeholder = one.unused;
}

function message(field, text) {
  field.classList.toggle("is-wrong", Boolean(text));
  field.querySelector(".wrong").textContent = text;
  field.querySelector(".choose")?.remove();
  for (const own of field.querySelectorAll("input[type=text], select, [role=radiogroup]")) {
    if (text) own.setAttribute("aria-invalid", "true"); else own.removeAttribute("aria-invalid");
  }
}

// The server.

async function ask(method, path, body, base = revision) {
  const headers = { accept: "application/json", "if-match": `"${base}"` };
  if (body !== undefined) headers["content-type"] = "application/json";
  const stop = new AbortController();
  const late = setTimeout(() => stop.abort(), 15000);
  try {
    const answer = await fetch(`/jobs/${job}${path}`, {
      method, headers, body: body === undefined ? undefined : JSON.stringify(body), signal: stop.signal,
    });
    return { status: answer.status, told: await answer.json() };
  } finally { clearTimeout(late); }
}

function standing(told) {
  revision = told.revision;
  document.body.dataset.revision = String(revision);
  for (const form of document.querySelectorAll("form[action*='base=']")) {
    form.action = form.getAttribute("action").replace(/base=\d+/, `base=${revision}`);
  }
  $("job-name").textContent = told.text_name;
  $("undo").disabled = !told.undo;
  $("redo").disabled = !told.redo;
  if (told.saved_says) $("saved").dataset.at = told.saved_says;
}

// told: how the job stands, and what reads otherwise than at revision `from`. What waits was typed over `from`,
// so it is now typed over the newest too, unless somebody else changed that very value.
function apply(told, from) {
  for (const [id, entry] of waiting) {
    const one = told.fields.find((field) => field.id === id);
    if (entry.base === from && !stuck(entry) && (!one || one.typed === entry.theirs)) entry.base = told.revision;
  }
  keep();
  standing(told);
  const here = [...document.querySelectorAll(".group, .row")].map((section) => section.id).sort();
  const there = told.rows.map(([id]) => id).filter((id) => id !== "defaults" && id !== "shop").sort();
  if (String(here) !== String(there) || !document.querySelector(".bench")) {
    try { sessionStorage.setItem(store, document.activeElement?.closest(".field")?.id ?? ""); } catch { /* no matter */ }
    location.reload(); // an opening came or went elsewhere
    return;
  }
  for (const one of told.fields) show(one);
  for (const [id, title] of told.rows) {
    if ($(`t-${id}`)) $(`t-${id}`).textContent = title;
    if ($(`j-${id}`)) $(`j-${id}`).textContent = title;
  }
  for (const [table, text] of Object.entries(told.given)) if ($(`n-${table}`)) $(`n-${table}`).textContent = text;
  draw(told.drawings);
  stand(told.stand);
  $("problems").replaceChildren(...told.problems.map((text) => Object.assign(document.createElement("li"), { textContent: text })));
  $("problems").hidden = !told.problems.length;
  $("stops").hidden = true;
  clearTimeout(stopsTimer);
  if (told.whole) stopsTimer = setTimeout(stops, 1500);
}

function stand(status) {
  $("next").textContent = status.next;
  $("next").dataset.to = status.next_id;
  $("next").hidden = !status.next_id;
  $("all-measured").textContent = status.next;
  $("all-measured").hidden = Boolean(status.next_id) || !status.next;
  $("wanting").textContent = status.wanting;
  $("wrong").textContent = status.wrong;
  $("wrong").dataset.to = status.wrong_id;
  $("wrong").hidden = !status.wrong;
}

async function stops() {
  if (waiting.size) return;
  const { status, told } = await ask("GET", "/stops").catch(() => ({}));
  if (status !== 200 || told.revision !== revision || !told.says) return;
  $("stops").textContent = told.says;
  $("stops").classList.toggle("must", told.must);
  $("stops").hidden = false;
}

function saved() {
  const line = $("saved"), not = waiting.size > 0 && (wait > 0 || [...waiting.values()].some(stuck));
  line.classList.toggle("not-yet", not);
  line.title = not ? say.unsaved_say : "";
  line.textContent = not ? say.unsaved : line.dataset.at;
}

// Saving: one request at a time; while it is away, what is typed waits and only its last state goes next.

async function send() {
  clearTimeout(timer);
  if (busy) return;
  const next = [...waiting].find(([, entry]) => !stuck(entry));
  if (!next) { saved(); return; }
  const [id, entry] = next;
  const { typed } = entry;
  busy = true;
  entry.sent.push(typed);
  try {
    const { status, told } = await ask("PUT", "/value", { path: entry.path, typed, at: opening }, entry.base);
    if (status === 200) done(id, typed, told, entry.base);
    else if (status === 412) await clash(id);
    else if (status >= 500) later();
    else refuse(id, typed, told.says);
  } catch { later(); } finally { release(); }
}

function release() {
  busy = false;
  saved();
  const since = again;
  again = 0;
  if (since) sync(since);
  else if (!wait && [...waiting.values()].some((one) => !stuck(one))) send();
}

function done(id, typed, told, from) {
  wait = 0;
  const entry = waiting.get(id);
  if (entry.typed === typed) waiting.delete(id);
  else Object.assign(entry, { base: told.revision, sent: [], theirs: typed });
  apply(told, from);
}

function later() {
  wait = Math.min(5000, (wait || 250) * 2);
  timer = setTimeout(send, wait);
}

function refuse(id, typed, says) {
  const entry = waiting.get(id);
  if (entry.typed !== typed) return;
  entry.refused = true;
  wait = 0;
  tell(id, entry, `${say.refused} ${says ?? ""}`);
}

// What cannot be saved is said beside its field; where the field is gone, above the form.
function tell(id, entry, text) {
  if (box(id)) { message(box(id), text); keep(); return; }
  waiting.delete(id);
  keep();
  const line = Object.assign(document.createElement("p"), { className: "note", textContent: `${text} ${id}: ${entry.typed}` });
  document.querySelector("main").prepend(line);
}

async function clash(id) {
  wait = 0;
  const since = Math.min(revision, waiting.get(id).base);
  const { status, told } = await ask("GET", `/value?since=${since}&at=${opening}`);
  if (status !== 200) { later(); return; }
  const entry = waiting.get(id);
  const seen = told.fields.find((one) => one.id === id);
  const theirs = seen?.typed ?? entry.theirs ?? "";
  if (entry.sent.slice(0, -1).includes(theirs)) { // it was our own, and only its answer was lost
    Object.assign(entry, { base: told.revision, sent: [], theirs });
    apply(told, since);
    return;
  }
  Object.assign(entry, { clash: told.revision, theirs });
  apply(told, since);
  tell(id, entry, say.clash);
  if (box(id)) choose(id, entry, theirs);
}

function choose(id, entry, theirs) {
  const field = box(id);
  message(field, say.clash);
  const line = Object.assign(document.createElement("span"), { className: "choose" });
  const button = (text, value, pick) => {
    const one = Object.assign(document.createElement("button"), {
      type: "button", className: "quiet", textContent: `${text} ${value || say.emptied}`,
    });
    one.addEventListener("click", pick);
    line.append(one);
  };
  button(say.mine, entry.typed, () => {
    Object.assign(entry, { base: entry.clash, sent: [], clash: undefined });
    message(field, "");
    send();
  });
  button(say.theirs, theirs, () => {
    waiting.delete(id);
    keep();
    put(field, theirs, theirs);
    sync(entry.base);
  });
  field.querySelector(".said").append(line);
}

async function sync(since = revision) {
  if (busy) { again = since; return; }
  busy = true;
  try { await catchUp(since); } finally { release(); }
}

async function catchUp(since) {
  const { status, told } = await ask("GET", `/value?since=${since}&at=${opening}`).catch(() => ({}));
  if (status === 200) apply(told, since);
  else if (!(status < 500)) setTimeout(() => sync(since), 2000);
}

function changed(field) {
  const id = idOf(field), typed = typedIn(field), entry = waiting.get(id);
  if (entry) {
    Object.assign(entry, { typed, refused: false });
    if (entry.clash !== undefined) { choose(id, entry, entry.theirs); keep(); return; }
  } else {
    const { path, now } = field.dataset;
    waiting.set(id, { path: JSON.parse(path), typed, base: revision, sent: [], theirs: now });
  }
  keep();
  send();
}

document.addEventListener("input", (event) => {
  const field = fieldOf(event.target);
  if (field) changed(field);
});

window.addEventListener("online", () => { wait = 0; send(); });
document.addEventListener("visibilitychange", () => {
  if (document.visibilityState === "visible" && !waiting.size && document.querySelector(".bench")) sync();
});
window.addEventListener("pagehide", () => {
  for (const { path, typed, base, ...entry } of waiting.values()) {
    if (stuck(entry)) continue;
    fetch(`/jobs/${job}/value`, {
      method: "PUT", keepalive: true, body: JSON.stringify({ path, typed }),
      headers: { accept: "application/json", "content-type": "application/json", "if-match": `"${base}"` },
    }).catch(() => {});
  }
});

// Another page is opened once what was typed is saved, or it would show what was before.
document.addEventListener("click", async (event) => {
  const link = event.target.closest("a[href^='/']");
  if (!link || event.ctrlKey || event.metaKey || event.shiftKey || !(busy || waiting.size)) return;
  event.preventDefault();
  await settled();
  location.assign(link.href);
});

// Undo and redo, whose history lies on the server.

async function travel(way) {
  if (!await settled()) return;
  busy = true;
  try {
    const since = revision;
    await ask("POST", `/${way}`).catch(() => ({}));
    await catchUp(since);
  } finally { release(); }
}

document.addEventListener("submit", async (event) => {
  const form = event.target;
  if (form.id === "text-form") { event.preventDefault(); wholeText(form); return; }
  const way = /\/(undo|redo)\?/.exec(form.action)?.[1];
  if (way && form.closest(".keeping")) { event.preventDefault(); travel(way); return; }
  if (form.classList.contains("move") && (busy || waiting.size)) { // after what is on its way
    event.preventDefault();
    if (await settled()) form.submit();
  }
});

async function settled() {
  const moving = () => busy || [...waiting.values()].some((one) => !stuck(one));
  for (let tries = 0; tries < 60 && moving(); tries++) {
    if (!wait) send();
    await new Promise((wake) => setTimeout(wake, 50));
  }
  return !moving();
}

async function wholeText(form) {
  const stop = { accept: "application/json", "content-type": "text/plain", "if-match": `"${revision}"` };
  try {
    const answer = await fetch(form.dataset.to, { method: "PUT", body: $("text").value, headers: stop });
    if (answer.ok) { location.reload(); return; }
    $("text-says").textContent = `${say.refused} ${(await answer.json()).says}`;
  } catch { $("text-says").textContent = say.unsaved; }
}

// Where the focus is: its dimension is lit, its drawing shown, the keypad at hand for a length.

document.addEventListener("focusin", (event) => {
  const field = fieldOf(event.target);
  for (const other of document.querySelectorAll(".field.on")) if (other !== field) other.classList.remove("on");
  openPad(field);
  room();
  if (!field) return;
  // nothing may move between press and release, or the release lies beside what was pressed
  if (pressed) document.addEventListener("click", () => clear(field), { once: true });
  else clear(field);
  field.classList.add("on");
  look(field.dataset.view);
  light(idOf(field));
  const [table, n] = JSON.parse(field.dataset.path);
  if (table === "opening" && n !== opening) { opening = n; sync(); }
});

// A field in use lies clear of the drawing above it and the keypad below.
function clear(field) {
  const { top, bottom, height } = field.getBoundingClientRect(), css = getComputedStyle(field);
  const above = parseFloat(css.scrollMarginTop), below = innerHeight - parseFloat(css.scrollMarginBottom);
  if (top >= above && bottom <= below) return;
  field.scrollIntoView({ block: height > below - above ? "start" : "nearest", behavior: calm.matches ? "auto" : "smooth" });
}

let pressed = false;
document.addEventListener("pointerdown", () => { pressed = true; }, true);
document.addEventListener("keydown", () => { pressed = false; }, true);

const calm = matchMedia("(prefers-reduced-motion: reduce)");

function go(id) {
  const field = box(id);
  if (!field || field.hidden) return;
  const folded = field.closest("details");
  if (folded) folded.open = true;
  const own = control(field);
  own.focus({ preventScroll: true });
  if (own.type === "text") own.select();
}

for (const id of ["next", "wrong"]) $(id)?.addEventListener("click", () => go($(id).dataset.to));

// Keys: Enter is the next field, as the tape goes; Ctrl-Z outside a field is undo.

function onward(from, step) {
  const all = controls(), at = all.findIndex((one) => fieldOf(one) === from);
  const next = all[at + step];
  if (next) go(idOf(fieldOf(next)));
}

document.addEventListener("keydown", (event) => {
  const field = fieldOf(event.target);
  if (event.key === "Enter" && field && !event.isComposing && event.target.tagName !== "BUTTON") {
    event.preventDefault();
    onward(field, event.shiftKey ? -1 : 1);
  }
  const writing = event.target.matches?.("input[type=text], textarea");
  if ((isMac ? event.metaKey : event.ctrlKey) && !event.altKey && !writing) {
    const key = event.key.toLowerCase();
    if (key === "z" || key === "y") { event.preventDefault(); travel(key === "y" || event.shiftKey ? "redo" : "undo"); }
  }
});

function room() {
  const seen = document.querySelector(".seen");
  const beside = seen && getComputedStyle(seen.parentElement).display === "grid";
  const above = seen && !beside ? seen.offsetHeight + 4 : 16;
  document.documentElement.style.setProperty("--seen", `${above}px`);
  document.documentElement.style.setProperty("--pad", `${padHeight() + 8}px`);
}

// An opening's own measures come when somebody asks for them.

document.addEventListener("toggle", async (event) => {
  const own = event.target;
  if (own.id === "as-text" && own.open) { // as it stands now
    const now = await fetch(`/jobs/${job}/job.toml`).catch(() => null);
    if (now?.ok) $("text").value = await now.text();
  }
  if (!own.matches?.(".own") || !own.open || own.dataset.here) return;
  const answer = await fetch(`/jobs/${job}/own/${own.dataset.own}`).catch(() => null);
  if (!answer?.ok) return;
  own.dataset.here = "yes";
  const place = own.querySelector(".fields");
  const focus = document.activeElement?.id;
  place.innerHTML = await answer.text();
  prepare(place);
  restore();
  if (focus) $(focus)?.focus();
}, true);

// What was typed here and never acknowledged comes back.

function restore() {
  for (const [id, entry] of kept()) {
    const field = box(id);
    if (waiting.has(id)) continue;
    const theirs = field?.dataset.now ?? "";
    if (field && theirs === entry.typed) continue;
    if (field) put(field, entry.typed, entry.typed);
    waiting.set(id, { path: entry.path, typed: entry.typed, base: entry.base, sent: entry.sent ?? [], theirs });
  }
  keep();
  send();
}

function arrive() {
  let left = "";
  try { left = sessionStorage.getItem(store) ?? ""; sessionStorage.removeItem(store); } catch { /* no matter */ }
  if (left) { go(left.slice(2)); return; }
  const section = location.hash && document.getElementById(location.hash.slice(1));
  if (section?.tagName === "DETAILS") section.open = true;
  const first = section?.querySelector?.(".field:not([hidden])");
  if (first && /^#(opening|tool|stock|deviation)-\d+$/.test(location.hash)) go(idOf(first));
}

$("saved").dataset.at = $("saved").textContent;
watchDrawing(go);
watchPad((input) => onward(fieldOf(input), 1), room);
prepare(document);
room();
window.addEventListener("resize", room);
restore();
if (document.querySelector(".bench")) {
  // the browser's own jump to the section takes the focus away, so ours comes after it
  window.addEventListener("load", () => setTimeout(arrive));
  if (!$("all-measured").hidden) stopsTimer = setTimeout(stops, 1500);
}

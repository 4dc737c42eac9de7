// The keypad for lengths on a touch screen, docked below: feet, inches and sixteenths in a few touches.

const touch = matchMedia("(pointer: coarse)").matches;
const pad = document.getElementById("pad"), show = document.getElementById("pad-show");
let hidden = false; // somebody wants the device's own keys

// Lengths under `root` call up this keypad, not the device's own.
export function prepare(root) {
  if (!touch) return;
  for (const input of root.querySelectorAll(".field[data-kind=length] input")) input.inputMode = hidden ? "text" : "none";
}

export function open(field) {
  const length = touch && field?.dataset.kind === "length";
  pad.hidden = !length || hidden;
  show.hidden = !length || !hidden;
  document.body.classList.toggle("with-pad", !pad.hidden);
}

export function height() {
  return pad.hidden ? 0 : pad.offsetHeight;
}

// Calls next(input) when the next field is asked for, moved() when the keypad came or went.
export function watch(next, moved) {
  for (const part of [pad, show]) part.addEventListener("pointerdown", (event) => event.preventDefault()); // the field keeps the focus
  pad.addEventListener("click", (event) => {
    const key = event.target.closest(".key")?.dataset.key, input = document.activeElement;
    if (!key || !input?.closest(".field")) return;
    if (key === "next") next(input);
    else if (key === "hide") turn(true, input, moved);
    else press(key, input);
  });
  show.addEventListener("click", () => turn(false, document.activeElement, moved));
}

function turn(off, input, moved) {
  hidden = off;
  prepare(document);
  input.blur(); // so that the device shows or hides its own keys
  input.focus({ preventScroll: true });
  moved();
}

function press(key, input) {
  const before = input.value.slice(0, input.selectionStart), after = input.value.slice(input.selectionEnd);
  let left = before + key;
  if (key === "back") left = input.selectionStart === input.selectionEnd ? before.slice(0, -1) : before;
  else if (/^1\/\d+$/.test(key)) left = fraction(before, Number(key.slice(2)));
  else if (key === "mm") left = `${before.trimEnd()} mm`;
  else if (key === "'") left = `${before.trimEnd()}' `;
  if ((left + after).length > 40) return;
  input.value = left + after;
  input.setSelectionRange(left.length, left.length);
  input.dispatchEvent(new Event("input", { bubbles: true }));
}

// 1/8 pressed after 1/4 gives 3/8: any sixteenth in four touches at most.
function fraction(before, parts) {
  const found = /(\d+)\/(\d+)$/.exec(before);
  let over = 16 / parts, under = 16;
  if (found && 16 % Number(found[2]) === 0) over += Number(found[1]) * (16 / Number(found[2]));
  if (over >= 16) return before;
  while (over % 2 === 0) { over /= 2; under /= 2; }
  const stem = found ? before.slice(0, found.index) : before;
  return `${stem}${/\d$/.test(stem) ? " " : ""}${over}/${under}`;
}

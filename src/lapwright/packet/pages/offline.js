// Ticks stay on this device, under the job's hash: a changed job starts with none.
(() => {
  const key = "lapwright:packet:" + document.body.dataset.hash;
  const boxes = [...document.querySelectorAll("[data-tick]")];
  const steps = boxes.filter((box) => box.dataset.tick.startsWith("step-"));
  const count = document.getElementById("count");
  const again = document.getElementById("again");

  const show = () => {
    const done = steps.filter((box) => box.checked).length;
    count.textContent = count.dataset.says.replace("%done", done).replace("%all", steps.length);
  };
  const lost = () => {
    document.getElementById("kept").hidden = true;
    document.getElementById("not-kept").hidden = false;
  };
  const keep = () => {
    show();
    const ticked = boxes.filter((box) => box.checked).map((box) => box.dataset.tick);
    try { localStorage.setItem(key, JSON.stringify(ticked)); } catch { lost(); }
  };

  try {
    const ticked = JSON.parse(localStorage.getItem(key) || "[]");
    for (const box of boxes) box.checked = ticked.includes(box.dataset.tick);
    localStorage.setItem(key, JSON.stringify(ticked));
  } catch { lost(); }
  for (const box of boxes) box.addEventListener("change", keep);
  again.hidden = steps.length === 0;
  again.addEventListener("click", () => {
    for (const box of boxes) box.checked = false;
    keep();
  });
  show();
})();

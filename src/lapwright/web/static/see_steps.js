// The checklist: a touched step is kept at once; what could not be kept says so and stays as it was.

const unsaved = document.querySelector("#unsaved");

for (const form of document.querySelectorAll(".steps form")) {
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    keep(form).catch(() => { unsaved.textContent = unsaved.dataset.says; });
  });
}

async function keep(form) {
  const button = form.querySelector("button"), done = button.getAttribute("aria-pressed") !== "true";
  const answer = await fetch(form.action, {
    method: "PUT", headers: { "content-type": "application/json" }, body: JSON.stringify({ done }),
  });
  if (!answer.ok) throw new Error(String(answer.status));
  const told = await answer.json();
  button.setAttribute("aria-pressed", String(told.done));
  form.elements.done.value = String(!told.done);
  form.parentElement.classList.toggle("is-done", told.done);
  document.querySelector("#count").textContent = told.says;
  document.querySelector("#progress").value = told.count;
  unsaved.textContent = "";
}

// A step that another view leads to stands open.
document.getElementById(location.hash.slice(1))?.closest("li")?.querySelector("details")?.setAttribute("open", "");

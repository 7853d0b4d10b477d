import {ask} from "./shell.js";
const form = document.getElementById("new"), refused = document.getElementById("refused");
async function start(draft) {
  const told = Object.fromEntries(new FormData(form));
  refused.textContent = draft ? "The argument is being written and proved…" : "";
  for (const button of form.querySelectorAll("button")) button.disabled = true;
  try {
    const made = await ask("/choose/new", {...told, draft});
    location.href = "/write/" + encodeURIComponent(made.lesson);
  } catch (fault) { refused.textContent = fault.message; }
  for (const button of form.querySelectorAll("button")) button.disabled = false;
}
form.addEventListener("submit", event => { event.preventDefault(); start(true); });
document.getElementById("blank").addEventListener("click", () => start(false));

import {ask, lesson, listen} from "./shell.js";
const $ = id => document.getElementById(id);
listen({build: told => { if (told.lesson !== lesson) return; $("progress").hidden = false; $("progress").max = told.of; $("progress").value = told.done; $("step").textContent = told.output ? `${told.output}, ${told.done + 1} of ${told.of}` : "The kit is built."; }});
async function build(draft) {
  for (const id of ["build", "draft"]) $(id).disabled = true;
  $("refused").textContent = "";
  try {
    const made = await ask(`/publish/${encodeURIComponent(lesson)}/build`, {draft});
    if (made.refused) { $("refused").textContent = made.refused; $("step").textContent = "Not built."; } else location.reload();
  } catch (fault) { $("refused").textContent = fault.message; }
  for (const id of ["build", "draft"]) $(id).disabled = false;
}
$("build").addEventListener("click", () => build(false)); $("draft").addEventListener("click", () => build(true));

"use strict";
// The speaker's window: cue cards that follow the board's window and can move it.
const lesson = document.body.dataset.lesson;
const channel = new BroadcastChannel(`boardproof ${lesson}`);
const $ = (id) => document.getElementById(id);
const clock = (ms) => { const s = Math.floor(ms / 1000); return `${Math.floor(s / 60)}:${String(s % 60).padStart(2, "0")}`; };
let steps = [], at = -1;

function show(number) {
  if (number === at || !steps[number]) return;
  at = number;
  const step = steps[at], after = steps[at + 1];
  $("scene").textContent = `${step.scene} · step ${at + 1} of ${steps.length}`;
  $("cue").textContent = step.waits ? `Wait: ${step.cue}` : step.cue;
  $("said").textContent = step.said || "Nothing is said here.";
  $("after").textContent = after ? `Then: ${after.cue}` : "Then it is over.";
}
channel.addEventListener("message", ({ data }) => {
  if (data.kind !== "state") return;
  show(data.at);
  $("clock").textContent = clock(data.time);
  $("plan").textContent = clock(data.plan);
  $("pace").textContent = data.pace;
  $("level").value = data.level;
  $("link").textContent = data.recording ? "Recording." : "Follows the board's window.";
});
for (const name of ["next", "back"]) $(name).addEventListener("click", () => channel.postMessage({ kind: "command", name }));
$("text").addEventListener("click", () => {
  const on = $("said").hidden;
  $("said").hidden = !on;
  $("text").setAttribute("aria-pressed", on);
});
document.addEventListener("keydown", (event) => {
  const name = { ArrowRight: "next", PageDown: "next", ArrowLeft: "back", PageUp: "back" }[event.key];
  if (name) { event.preventDefault(); channel.postMessage({ kind: "command", name }); }
  if (event.key === "t") $("text").click();
});
(async () => {
  steps = (await (await fetch(`/lessons/${encodeURIComponent(lesson)}/steps.json`)).json()).steps;
  show(0);
  channel.postMessage({ kind: "hello" });
  document.body.dataset.ready = "yes";
})();

// What every page does: the theme, the stream of changes, asking the studio for things.
const root = document.documentElement, theme = document.getElementById("theme");
const stored = () => { try { return localStorage.getItem("theme"); } catch { return null; } };
function dress(name) {
  if (name) root.dataset.theme = name;
  const dark = name ? name === "slate" : matchMedia("(prefers-color-scheme: dark)").matches;
  if (theme) theme.textContent = dark ? "Paper" : "Slate";
}
dress(stored());
theme?.addEventListener("click", () => {
  const next = theme.textContent.toLowerCase();
  try { localStorage.setItem("theme", next); } catch { /* not kept for next time */ }
  dress(next);
});
export const lesson = document.body.dataset.lesson, mayWrite = document.body.dataset.may === "write";
export async function ask(address, told) {
  const answer = await fetch(address, {method: "POST", headers: {"content-type": "application/json"}, body: JSON.stringify(told)});
  const read = await answer.json();
  if (!answer.ok) throw Object.assign(new Error(read.refused), {status: answer.status});
  return read;
}
export function tell(words) { document.getElementById("told").textContent = words; }
export function listen(kinds) {
  const stream = new EventSource("/events");
  for (const [kind, act] of Object.entries(kinds)) stream.addEventListener(kind, event => act(JSON.parse(event.data)));
  addEventListener("pagehide", () => stream.close());
  return stream;
}

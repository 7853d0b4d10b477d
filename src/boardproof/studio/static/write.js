// The sheet: one text, shown scene by scene; the block with the caret shows its source in an editor.
import {ask, lesson, listen, mayWrite, tell} from "./shell.js";
import {EditorState, EditorView, keymap, defaultKeymap, Annotation, drawSelection} from "./codemirror.js";

const $ = id => document.getElementById(id), at = "/write/" + encodeURIComponent(lesson);
const tab = crypto.randomUUID(), quiet = 250, outside = Annotation.define();
let text = "", base = "", saved = "", version = 0, view = null, open = null, sheet = null, moment = [], chosen = null;
let done = [], undone = [], timer = 0, saving = false, conflict = false, lastTyped = 0;
const pieces = new Map();

// -- the text and its changes: one list for the whole lesson, so that undo works across pictures and words

function change(start, end, put, {from = "", caret = null} = {}) {
  const taken = text.slice(start, end);
  if (taken === put) return;
  const last = done.at(-1), now = Date.now();
  if (from === "typing" && last?.from === "typing" && last.start + last.put.length === start && !taken && now - last.at < 600 && !undone.length) {
    last.put += put; last.at = now;
  } else done.push({start, taken, put, from, at: now});
  undone = [];
  replace(start, end, put, from, caret);
}
function replace(start, end, put, from = "", caret = null) {
  text = text.slice(0, start) + put + text.slice(end);
  const grown = put.length - (end - start);
  shift(start, end, grown);
  if (open && from !== "typing") {
    if (start >= open.start && end <= open.end - grown + 0) {
      view.dispatch({changes: {from: start - open.start, to: Math.min(end - open.start, view.state.doc.length), insert: put}, annotations: outside.of(true), selection: caret === null ? undefined : {anchor: caret - open.start}});
    } else close();
  }
  lastTyped = performance.now();
  soon();
}
function shift(start, end, grown) {
  for (const block of document.querySelectorAll(".block")) {
    for (const each of [block, ...block.querySelectorAll(".slip")]) {
      const from = +each.dataset.start, to = +each.dataset.end;
      if (from >= end && from > start) each.dataset.start = from + grown;
      if (to >= end) each.dataset.end = to + grown;
    }
  }
  if (open) { if (open.start > start && open.start >= end) open.start += grown; if (open.end >= end) open.end += grown; }
}
function undo() { const last = done.pop(); if (!last) return tell("Nothing to undo."); undone.push(last); replace(last.start, last.start + last.put.length, last.taken); }
function redo() { const next = undone.pop(); if (!next) return tell("Nothing to redo."); done.push(next); replace(next.start, next.start + next.taken.length, next.put); }
function whole(next) {   // another text altogether: the smallest change that makes it
  let start = 0, end = 0;
  const most = Math.min(text.length, next.length);
  while (start < most && text[start] === next[start]) start++;
  while (end < most - start && text[text.length - 1 - end] === next[next.length - 1 - end]) end++;
  change(start, text.length - end, next.slice(start, next.length - end));
}

// -- saving and proving

function soon() { version++; clearTimeout(timer); timer = setTimeout(settle, quiet); said("…"); }
const said = words => { if ($("saved").textContent !== words) $("saved").textContent = words; };
async function settle() { look(); await save(); }
async function save() {
  if (!mayWrite || saving || conflict || text === saved) return;
  saving = true;
  const sent = text;
  try {
    const kept = await ask(at + "/save", {text: sent, base, tab});
    if (kept.kind === "conflict") return beside(sent, kept);
    base = kept.sha; saved = kept.text;
    if (kept.kind === "merged") { tell("The file was changed elsewhere; both changes are in."); whole(text === sent ? kept.text : text); if (text !== kept.text) saved = kept.text; }
    said(`Saved ${new Date().toTimeString().slice(0, 5)}, every save kept`);
  } catch (fault) { said("Not saved yet: " + (fault.status ? fault.message : "the studio does not answer")); setTimeout(save, 1000); }
  finally { saving = false; if (text !== sent && !conflict) setTimeout(save, quiet); }
}
function beside(mine, theirs) {
  conflict = true;
  const box = $("beside");
  box.hidden = false;
  box.replaceChildren(element("h2", "Two changes at the same place"), element("p", "The file was changed elsewhere where you changed it too. Both are kept. Which shall stand?"));
  const two = element("div", ""); two.className = "two";
  for (const [words, one, act] of [["Mine", mine, "Keep mine"], ["The file’s", theirs.text, "Keep the file’s"]]) {
    const part = element("section", ""), button = element("button", act), source = element("pre", one);
    source.tabIndex = 0; source.setAttribute("aria-label", words);
    button.type = "button";
    button.addEventListener("click", () => { conflict = false; box.hidden = true; base = theirs.sha; saved = theirs.text; whole(one); soon(); });
    part.append(element("h3", words), source, button); two.append(part);
  }
  box.append(two); box.querySelector("button").focus();
}
async function look() {
  const asked = version;
  try {
    const found = mayWrite ? await ask(at + "/spread", {text, known: [...pieces.keys()], version, tab}) : await (await fetch(at + "/look")).json();
    if (asked === version) show(found);
  } catch (fault) { if (fault.status !== 409) tell(fault.message); }
}
const element = (kind, words) => { const made = document.createElement(kind); made.textContent = words; return made; };
const html = (kind, markup) => { const made = document.createElement(kind); made.innerHTML = markup; return made; };
const piece = sent => { if (sent.html !== undefined) pieces.set(sent.key, sent.html); return pieces.get(sent.key) ?? ""; };

// -- the sheet

function show(found) {
  sheet = found;
  const depths = new CSSStyleSheet();
  for (const each of found.depths) depths.insertRule(`.d${each}{vertical-align:-${each / 100}em}`);
  document.adoptedStyleSheets = [depths];
  $("glyphs").innerHTML = found.glyphs;
  $("title").textContent = found.title;
  $("summary").innerHTML = found.summary;
  $("time").textContent = found.time;
  $("loose").replaceChildren(...found.findings.map(each => { const p = element("p", (each.file ? each.file + ": " : "") + each.words); p.className = "notice " + each.severity; return p; }));
  const list = $("sheet");
  const caret = open && view ? {start: open.start, focus: view.hasFocus} : null;
  while (list.children.length > found.scenes.length || list.firstElementChild?.tagName === "P") list.lastElementChild.remove();
  found.scenes.forEach((scene, number) => {
    scene.words = piece(scene.words); scene.pictures = scene.pictures.map(piece);
    let spread = list.children[number];
    if (!spread) { spread = html("section", `<h2></h2><div class="two"><div class="words"></div><div class="picture"><figure></figure><div class="walk"></div><div class="chosen"></div></div></div><div class="add"></div>`); spread.className = "scene"; list.append(spread); if (mayWrite) adder(spread); }
    spread.dataset.scene = number;
    spread.querySelector("h2").replaceChildren(span("number", number + 1), document.createTextNode(" " + (scene.title || found.title)), span("time", scene.time));
    fill(spread.querySelector(".words"), scene.words);
    moment[number] = Math.min(moment[number] ?? scene.moments.length - 1, scene.moments.length - 1);
    if (open && scene.start <= open.start && open.start < scene.end) follow(number); else picture(number);
  });
  rail(found);
  if (caret) view.requestMeasure();
}
const span = (kind, words) => { const made = element("span", words); made.className = kind; return made; };
function fill(words, markup) {   // put new blocks in, but leave the one that is being edited where it is
  if (words.dataset.markup === markup && !open) return;
  const made = html("div", markup), old = open && words.contains(open.block) ? open.block : null;
  words.dataset.markup = old ? "" : markup;
  if (!old) { words.replaceChildren(...made.children); return; }
  const inside = [...made.children].filter(each => +each.dataset.end > open.start && +each.dataset.start < open.end || +each.dataset.start === open.start);
  const first = inside[0], after = first ? [...made.children].slice([...made.children].indexOf(inside.at(-1)) + 1) : [...made.children].filter(each => +each.dataset.start >= open.end);
  const before = [...made.children].filter(each => !inside.includes(each) && !after.includes(each));
  while (old.previousElementSibling) old.previousElementSibling.remove();
  while (old.nextElementSibling) old.nextElementSibling.remove();
  old.before(...before); old.after(...after);
  for (const kind of ["marks", "shown", "slips"]) old.querySelector("." + kind).replaceChildren(...inside.flatMap(each => [...each.querySelector("." + kind).children]));
  old.className = (first?.className ?? "block") + " open";
}
function rail(found) {
  const now = current();
  $("scenes").replaceChildren(...found.scenes.map((scene, number) => {
    const item = element("li", ""), link = element("button", "");
    link.type = "button"; link.append(span("number", number + 1), span("what", scene.title || found.title));
    if (scene.worst) link.append(html("span", `<svg class="mark" viewBox="0 0 20 20" role="img" aria-label="${scene.worst.replaceAll("-", " ")}"><use href="#v-${scene.worst}"/></svg>`).firstChild);
    link.addEventListener("click", () => { $("sheet").children[number].scrollIntoView(); $("sheet").children[number].querySelector(".block")?.focus(); folds(""); });
    if (number === now) item.setAttribute("aria-current", "true");
    item.append(link); return item;
  }));
  const rows = found.answers[now] ?? [];
  $("answers").replaceChildren(...rows.flatMap(row => { const value = element("dd", row.value); return [html("dt", row.name), value]; }));
}
const current = () => open ? Math.max(0, sheet.scenes.findLastIndex(scene => scene.start <= open.start)) : 0;
function follow(number) {
  const caret = open.start + view.state.selection.main.head, moments = sheet.scenes[number].moments;
  const last = moments.findLastIndex(each => each.at >= 0 && each.at <= caret);
  moment[number] = last < 0 ? 0 : last;
  picture(number);
}
function picture(number) {
  const scene = sheet.scenes[number], spread = $("sheet").children[number], place = moment[number], drawn = scene.pictures[place] ?? "";
  const figure = spread.querySelector("figure"), walk = spread.querySelector(".walk");
  if (figure.dataset.drawn !== drawn) { figure.innerHTML = drawn; figure.dataset.drawn = drawn; }
  walk.hidden = !scene.moments.length;
  if (!walk.firstChild) {
    for (const [words, step] of [["Back", -1], ["Next", 1]]) {
      const button = element("button", words); button.type = "button";
      button.addEventListener("click", () => { moment[number] = Math.max(0, Math.min(sheet.scenes[number].moments.length - 1, moment[number] + step)); picture(number); });
      walk.append(button);
    }
    walk.firstChild.after(span("where", ""));
  }
  choosing(number);
  walk.querySelector(".where").textContent = scene.moments.length ? `moment ${place + 1} of ${scene.moments.length}: ${scene.moments[place].what}` : "";
}

// -- the circuit: a part is chosen, and something is done to it

const KINDS = {series: "In series with…", parallel: "In parallel with…"};
function choosing(number) {
  const scene = sheet.scenes[number], box = $("sheet").children[number].querySelector(".chosen");
  if (!mayWrite || !scene.parts.length) return box.replaceChildren();
  if (box.contains(document.activeElement) && document.activeElement.tagName === "INPUT") return;
  const held = box.contains(document.activeElement) ? document.activeElement.dataset.key : null;
  const list = element("p", "Choose a part: "), rows = [list];
  for (const part of scene.parts) {
    const button = element("button", part.path); button.type = "button"; button.dataset.key = part.path; button.className = "plain";
    button.setAttribute("aria-pressed", String(chosen?.scene === number && chosen.path === part.path));
    button.addEventListener("click", () => choose(number, part.path));
    list.append(button);
  }
  const part = chosen?.scene === number && scene.parts.find(each => each.path === chosen.path);
  if (part) rows.push(row(number, part));
  box.replaceChildren(...rows);
  if (held) box.querySelector(`[data-key="${CSS.escape(held)}"]`)?.focus();
}
function choose(number, path) { chosen = chosen?.scene === number && chosen.path === path ? null : {scene: number, path}; choosing(number); }
function row(number, part) {
  const box = element("div", ""), {start, end} = sheet.scenes[number];
  box.className = "row"; box.append(html("p", ""), element("p", ""));
  box.firstChild.append(element("strong", `${part.kind} ${part.path}`), " chosen ");
  const act = (name, given = "") => make({act: name, start, end, given: `${part.path} ${given}`.trim()});
  for (const value of part.values) {
    const label = element("label", value.letter + " "), field = element("input", "");
    field.value = value.value; field.size = 8; field.autocomplete = "off";
    field.addEventListener("keydown", event => { if (event.key === "Enter") { event.preventDefault(); field.blur(); } });
    field.addEventListener("change", () => act("value", `${value.letter} ${field.value.trim()}`));
    label.append(field); box.firstChild.append(label, " ");
  }
  const button = (words, does, key) => { const made = element("button", words); made.type = "button"; made.dataset.key = key; made.addEventListener("click", does); box.lastChild.append(made, " "); };
  if (part.kind === "cell" || part.kind === "source") button("Turn round", () => act("turn"), "turn");
  for (const [name, words] of Object.entries(KINDS)) button(words, () => {
    const label = element("label", (name === "series" ? "In series with it: " : "In parallel with it: ")), field = element("input", ""), put = element("button", "Put it in");
    field.value = part.kind === "cell" ? "cell 6 V, 1 ohm" : "resistor 10 ohm"; put.type = "button"; label.append(field);
    put.addEventListener("click", () => { const given = field.value.trim(); box.querySelector(".more")?.remove(); act(name, given); });
    box.querySelector(".more")?.remove();
    const more = element("p", ""); more.className = "more"; more.append(label, " ", put); box.append(more); field.focus(); field.select();
  }, name);
  button("Take out", () => act("out"), "out");
  if (part.kind === "switch") button(part.closed ? "Open it" : "Close it", () => act("switch", part.closed ? "open" : "close"), "switch");
  if (part.kind === "cell") button("Replace its group by one cell", () => act("equivalent", String(number)), "equivalent");
  return box;
}

// -- the editor: one at a time, over the lines of one block

function edit(block) {
  if (!mayWrite || open?.block === block) return;
  close();
  open = {block, start: +block.dataset.start, end: +block.dataset.end};
  block.classList.add("open");
  const place = element("div", ""); place.className = "source"; block.prepend(place);
  view = new EditorView({
    parent: place,
    state: EditorState.create({
      doc: text.slice(open.start, open.end),
      extensions: [
        EditorView.cspNonce.of(document.querySelector("meta[name=nonce]").content), EditorView.lineWrapping, drawSelection(),
        EditorView.contentAttributes.of({"aria-label": "Text of this place", spellcheck: "true"}),
        keymap.of([{key: "Mod-z", run: () => (undo(), true)}, {key: "Mod-y", run: () => (redo(), true)}, {key: "Mod-Shift-z", run: () => (redo(), true)},
          {key: "Escape", run: () => { const was = open.block; close(); was.focus(); return true; }},
          {key: "ArrowDown", run: next(1)}, {key: "ArrowUp", run: next(-1)}, ...defaultKeymap]),
        EditorView.updateListener.of(update => {
          if (update.docChanged && !update.transactions.some(each => each.annotation(outside))) {
            const parts = [];
            update.changes.iterChanges((from, to, _, __, put) => parts.push([from, to, put.toString()]));
            for (const [from, to, put] of parts.reverse()) change(open.start + from, open.start + to, put, {from: "typing"});
          }
          if (update.selectionSet && sheet) { const number = current(); if ($("sheet").children[number]) follow(number); }
        }),
      ],
    }),
  });
  view.focus();
  if (sheet) { rail(sheet); follow(current()); }
}
const next = step => target => {
  const lines = target.state.doc.lines, line = target.state.doc.lineAt(target.state.selection.main.head).number;
  if (step > 0 ? line < lines : line > 1) return false;
  const all = [...document.querySelectorAll(".block")], other = all[all.indexOf(open.block) + step];
  if (!other) return false;
  edit(other);
  if (step < 0) view.dispatch({selection: {anchor: view.state.doc.length}});
  return true;
};
function close() {
  if (!open) return;
  const {block} = open;
  view.destroy(); block.querySelector(".source").remove(); block.classList.remove("open");
  view = open = null;
  if (sheet && !timer) look();
}

// -- what is done with a click

async function act(button) {
  const slip = button.closest(".slip"), kind = button.dataset.act;
  const where = {start: +slip.dataset.start, end: +slip.dataset.end};
  if (kind === "proof") return proof(button, where);
  let given = slip.dataset.code;
  if (kind === "leave") { const reason = await asked(); if (!reason) return; given += " " + reason; }
  await make({act: kind, ...where, given});
}
async function make(wanted) {
  try {
    const found = await ask(at + "/change", {text, given: "", start: 0, end: 0, ...wanted});
    if (found.refused) return tell(found.refused);
    for (const [start, end, put] of found.changes.sort((a, b) => b[0] - a[0])) change(start, end, put);
    tell(found.words);
  } catch (fault) { tell(fault.message); }
}
async function proof(button, where) {
  const old = button.parentElement.nextElementSibling;
  if (old) { old.remove(); button.setAttribute("aria-expanded", "false"); return; }
  const found = await ask(at + "/change", {text, act: "proof", given: "", ...where});
  button.parentElement.after(html("div", found.html)); button.setAttribute("aria-expanded", "true");
}
const asked = () => new Promise(tell => {
  const box = $("asking"); $("reason").value = ""; box.returnValue = "no"; box.showModal();
  box.addEventListener("close", () => tell(box.returnValue === "yes" ? $("reason").value.trim() : ""), {once: true});
});
const FORMS = {statement: "$$ I = $$", "picture move": "`arrow I`", pause: "```pause 20 s\nTry this.\nanswer:\nThe answer.\n```", trap: "```trap\nwrong: I = \nThis is why it is wrong.\n```", claim: "```claim a name for it\nWhat is claimed, in words.\nmeans: I > 0\n```", scene: "## A new scene\n\nWhat is said in it."};
function adder(spread) {
  const add = spread.querySelector(".add"); add.append(span("", "Add here: "));
  for (const [name, form] of Object.entries(FORMS)) {
    const button = element("button", name); button.type = "button"; button.className = "plain";
    button.addEventListener("click", async () => {
      const scene = sheet.scenes[+spread.dataset.scene], end = scene.start + text.slice(scene.start, scene.end).trimEnd().length;
      change(end, end, "\n\n" + form);
      clearTimeout(timer); timer = 0; await look(); save();
      const made = [...document.querySelectorAll(".block")].findLast(each => +each.dataset.start >= end && +each.dataset.start <= end + form.length + 2);
      if (made) edit(made);
    });
    add.append(button);
  }
}

document.addEventListener("click", event => {
  const button = event.target.closest("[data-act]");
  if (button) return act(button);
  const drawn = event.target.closest("figure [data-id^='part:']");
  if (drawn && mayWrite) return choose(+drawn.closest(".scene").dataset.scene, drawn.dataset.id.slice(5).split("/")[0]);
  const block = event.target.closest(".block");
  if (block && !event.target.closest(".slips, a, button")) edit(block);
  else if (open && !event.target.closest(".block, .picture, .rail, dialog, header, .add, #beside")) close();
});
document.addEventListener("keydown", event => {
  if (event.target.classList?.contains("block")) {
    if (event.key === "Enter") { event.preventDefault(); edit(event.target); }
    const all = [...document.querySelectorAll(".block")], step = {ArrowDown: 1, ArrowUp: -1}[event.key];
    if (step) { event.preventDefault(); all[all.indexOf(event.target) + step]?.focus(); }
  }
  if ((event.metaKey || event.ctrlKey) && !event.target.closest?.(".cm-editor, input, textarea")) {
    if (event.key === "z") { event.preventDefault(); event.shiftKey ? redo() : undo(); }
    if (event.key === "y") { event.preventDefault(); redo(); }
  }
});
$("undo")?.addEventListener("click", undo); $("redo")?.addEventListener("click", redo);
$("as-text").addEventListener("click", () => {
  const shown = $("whole").hidden; close();
  $("whole").hidden = !shown; $("sheet").hidden = shown; $("as-text").setAttribute("aria-pressed", shown);
  if (!shown) return $("whole").replaceChildren();
  const area = element("textarea", ""); area.value = text; area.readOnly = !mayWrite; area.setAttribute("aria-label", "Lesson as text"); area.spellcheck = false;
  area.addEventListener("input", () => whole(area.value));
  $("whole").replaceChildren(area); area.focus();
});
$("back")?.addEventListener("click", async () => {
  const kept = await (await fetch(at + "/saves")).json();
  $("saves").replaceChildren(...kept.slice(0, 200).map(each => { const button = element("button", each.at); button.type = "button"; button.addEventListener("click", async () => { whole((await (await fetch(at + "/saves/" + each.name)).json()).text); $("history").close(); tell("Back to " + each.at + ". Undo takes you forward again."); }); return button; }));
  $("history").showModal();
});
function folds(which) {
  for (const name of ["scenes", "answers"]) { $("rail-" + name).classList.toggle("shown", name === which); $("fold-" + name).setAttribute("aria-expanded", name === which); }
}
for (const name of ["scenes", "answers"]) $("fold-" + name).addEventListener("click", () => folds($("fold-" + name).getAttribute("aria-expanded") === "true" ? "" : name));
addEventListener("beforeunload", () => { if (mayWrite && text !== saved && !conflict) fetch(at + "/save", {method: "POST", keepalive: true, headers: {"content-type": "application/json"}, body: JSON.stringify({text, base, tab})}); });

async function fetchText(words) {
  const now = await (await fetch(at + "/text")).json();
  if (now.sha === base) return;
  if (text !== saved) return save();
  base = now.sha; saved = now.text; whole(now.text); tell(words);
}
const stream = listen({
  saved: told => { if (told.lesson === lesson && told.tab !== tab) fetchText("Saved in another tab."); },
  disk: told => { if (told.files.includes(lesson + ".lesson.md")) fetchText("The file was changed on disk."); else look(); },
});
stream.addEventListener("open", () => { if (base) fetchText("The file was changed."); });
({text, sha: base} = await (await fetch(at + "/text")).json());
saved = text;
said("Saved, every save kept");
await look();
document.body.dataset.ready = "yes";
globalThis.studio = {get text() { return text; }, get version() { return version; }, make};

"use strict";
// The board's window: it shows the steps, keeps the time, and records. Pieces go to the machine as they come, one after
// another, each until it is kept; a lost tab or a crash costs the piece that was being made.
const PIECE = 2000, POINTER = 50;
const lesson = document.body.dataset.lesson;
const recordable = document.body.dataset.mode === "record";
const base = `/lessons/${encodeURIComponent(lesson)}`;
const channel = new BroadcastChannel(`boardproof ${lesson}`);
const $ = (id) => document.getElementById(id);
const clock = (ms) => { const s = Math.floor(ms / 1000); return `${Math.floor(s / 60)}:${String(s % 60).padStart(2, "0")}`; };
const state = { steps: [], at: 0, began: null, before: 0, recording: null, take: null, recorder: null, stream: null,
  number: 0, length: 0, queue: Promise.resolve(), pen: [], pointer: [], stroke: null, level: 0, heard: [] };

async function ask(method, path, body, type) {
  const headers = body === undefined ? {} : { "Content-Type": type || "application/json" };
  const sent = body === undefined || type ? body : JSON.stringify(body);
  const answer = await fetch(base + path, { method, body: sent, headers });
  const told = await answer.json();
  if (!answer.ok) throw new Error(told.error || "It was not done.");
  return told;
}

// -- time

function elapsed() { return state.began === null ? 0 : performance.now() - state.began; }
function planned(at) { return state.steps.slice(0, at).reduce((sum, step) => sum + step.ms, 0); }
function tell() {
  const time = state.before + elapsed(), plan = planned(state.at), span = state.steps[state.at] ? state.steps[state.at].ms : 0;
  let pace = "not started";
  if (state.began !== null) {
    const off = time < plan ? time - plan : Math.max(0, time - plan - span), s = Math.round(Math.abs(off) / 1000);
    pace = s < 3 ? "as planned" : `${s} s ${off < 0 ? "ahead" : "behind"}`;
  }
  $("clock").textContent = clock(time);
  $("plan").textContent = clock(plan);
  $("pace").textContent = pace;
  if ($("level")) $("level").value = state.level;
  channel.postMessage({ kind: "state", at: state.at, time, plan, pace, level: state.level, recording: state.recorder !== null });
}

// -- steps

function show(at, byHand = true) {
  state.at = Math.max(0, Math.min(state.steps.length - 1, at));
  const step = state.steps[state.at];
  $("board").innerHTML = step.board;
  wipe();
  $("now").textContent = `Step ${state.at + 1} of ${state.steps.length}. ${step.scene}. ${step.waits ? "Wait: the viewer tries." : step.cue}`;
  for (const row of $("steps").querySelectorAll("li")) {
    if (row.dataset.key === step.key) row.setAttribute("aria-current", "step"); else row.removeAttribute("aria-current");
  }
  if (byHand && state.recorder && state.take) {
    note({ steps: [{ moment: step.key, ms: Math.round(elapsed()) }] });
  }
  tell();
}

function list() {
  const place = $("steps");
  place.replaceChildren();
  let scene = "";
  state.steps.forEach((step, number) => {
    const row = document.createElement("li"), button = document.createElement("button"), aside = document.createElement("span");
    row.dataset.key = step.key;
    if (step.scene !== scene) { const head = document.createElement("h3"); head.textContent = scene = step.scene; row.append(head); }
    button.type = "button";
    button.textContent = step.cue;
    button.addEventListener("click", () => { if (!state.recorder) { show(number); $("now").scrollIntoView({ block: "nearest" }); } });
    const kept = state.recording && state.recording.steps[step.key];
    aside.className = "aside";
    aside.textContent = `${clock(planned(number))} planned` + (kept === undefined || kept === null ? "" : `, recorded at ${clock(kept)}`);
    row.append(button, aside);
    place.append(row);
  });
  if (state.steps[state.at]) for (const row of place.children) if (row.dataset.key === state.steps[state.at].key) row.setAttribute("aria-current", "step");
}

// -- pen and pointer

function place(event) {
  const box = $("ink").getBoundingClientRect(), scale = Math.min(box.width / 96, box.height / 54);
  return [(event.clientX - box.left - (box.width - 96 * scale) / 2) / scale, (event.clientY - box.top - (box.height - 54 * scale) / 2) / scale];
}
function wipe() { $("strokes").replaceChildren(); state.stroke = null; }
function penOn() { return $("pen").getAttribute("aria-pressed") === "true"; }
function drawing(event) {
  const [x, y] = place(event), ms = Math.round(elapsed());
  if (x < 0 || y < 0 || x > 96 || y > 54) return;
  if (!penOn()) {
    $("pointer").setAttribute("cx", x); $("pointer").setAttribute("cy", y); $("pointer").classList.add("seen");
    const last = state.pointer[state.pointer.length - 1];
    if (state.recorder && (!last || ms - last.ms >= POINTER)) state.pointer.push({ ms, x, y });
    return;
  }
  $("pointer").classList.remove("seen");
  if (event.type === "pointerdown") {
    state.stroke = document.createElementNS("http://www.w3.org/2000/svg", "path");
    state.stroke.setAttribute("d", `M${x.toFixed(2)} ${y.toFixed(2)}`);
    $("strokes").append(state.stroke);
    if (state.recorder) state.pen.push({ ms, x, y, new: true });
  } else if (state.stroke && event.buttons) {
    state.stroke.setAttribute("d", `${state.stroke.getAttribute("d")}L${x.toFixed(2)} ${y.toFixed(2)}`);
    if (state.recorder) state.pen.push({ ms, x, y });
  }
}

// -- recording

function inTurn(work) {
  // One request after the other; one that fails is tried again until the machine has it.
  state.queue = state.queue.then(async () => {
    for (let wait = 250; ; wait = Math.min(4000, 2 * wait)) {
      try { return kept(await work()); } catch (fault) {
        if (!(fault instanceof TypeError)) { $("kept").textContent = fault.message; return undefined; }
        $("kept").textContent = "The machine does not answer; trying again.";
        await new Promise((done) => setTimeout(done, wait));
      }
    }
  });
  return state.queue;
}
function kept(told) {
  if (told && told.id) {
    state.recording = told;
    $("kept").textContent = told.length_ms ? clock(told.length_ms) : "nothing yet";
    list();
    takes();
  }
  return told;
}
function note(rows) {
  const path = `/recordings/${state.recording.id}/takes/${state.take}/notes`;
  inTurn(() => ask("POST", path, rows));
}
function takes() {
  const place = $("listen-to");
  place.replaceChildren();
  for (const take of state.recording.takes) {
    if (!take.length_ms || take.id === state.take) continue;
    const label = document.createElement("label"), sound = document.createElement("audio");
    sound.controls = true; sound.preload = "none";
    sound.src = `${base}/recordings/${state.recording.id}/takes/${take.id}/sound`;
    sound.setAttribute("aria-label", `Take ${take.id}, ${clock(take.length_ms)}`);
    label.append(`Take ${take.id} `, sound);
    place.append(label);
  }
}

async function listenIn() {
  state.stream = await navigator.mediaDevices.getUserMedia({ audio: { echoCancellation: false, noiseSuppression: false, autoGainControl: false } });
  const sound = new AudioContext(), ear = sound.createAnalyser(), wave = new Float32Array(8192);
  ear.fftSize = wave.length; // longer than the time between two looks, so that no sound slips through
  state.ear = [sound, sound.createMediaStreamSource(state.stream)];
  state.ear[1].connect(ear);
  await sound.resume();
  setInterval(() => {
    ear.getFloatTimeDomainData(wave);
    // The loudest of late, falling slowly: a voice has gaps, and a meter that jumps can't be read.
    state.level = Math.min(1, Math.max(0.9 * state.level, 2 * Math.max(...wave.map(Math.abs))));
    tell();
  }, 100);
}

async function begin() {
  $("record").disabled = true;
  try {
    if (!state.stream) await listenIn();
    if (!state.recording) kept(await ask("POST", "/recordings", { consent: $("consent").value }));
    const told = kept(await ask("POST", `/recordings/${state.recording.id}/takes`, { moment: state.steps[state.at].key }));
    state.take = told.take;
    state.number = 0;
    state.before = told.length_ms;
    const type = ["audio/webm;codecs=opus", "audio/webm", "audio/mp4"].find((each) => MediaRecorder.isTypeSupported(each));
    const recorder = new MediaRecorder(state.stream, { mimeType: type, audioBitsPerSecond: 64000 });
    recorder.addEventListener("start", () => { state.began = performance.now(); });
    recorder.addEventListener("dataavailable", (event) => piece(event.data));
    recorder.addEventListener("stop", ended);
    state.recorder = recorder;
    recorder.start(PIECE);
    $("record").textContent = "Stop recording";
    $("record").classList.add("on");
  } catch (fault) {
    $("kept").textContent = fault.name === "NotAllowedError" ? "The microphone is not allowed here: allow it beside the address." : fault.message;
    state.recorder = null;
  }
  $("record").disabled = false;
}
function piece(content) {
  if (!content.size) return;
  const number = ++state.number, ms = Math.round(elapsed()), id = state.recording.id, take = state.take;
  inTurn(() => ask("POST", `/recordings/${id}/takes/${take}/pieces/${number}?ms=${ms}`, content, "application/octet-stream"));
  if (state.pen.length || state.pointer.length) note({ pen: state.pen.splice(0), pointer: state.pointer.splice(0) });
}
function ended() {
  state.recorder = null;
  inTurn(async () => { state.take = null; state.before += elapsed(); state.began = null; return state.recording; });
  $("record").textContent = "Record from this step";
  $("record").classList.remove("on");
}

// -- findings

async function hear(file) {
  $("heard").textContent = "Listening ...";
  try {
    const told = await ask("POST", `/recordings/${state.recording ? state.recording.id : "none"}/captions`, await file.arrayBuffer(), "application/octet-stream");
    state.heard = told.heard;
    const slips = told.heard.length;
    $("heard").textContent = slips ? `${slips} ${slips === 1 ? "place" : "places"} to look at.` : "Nothing that was said is wrong.";
    findings();
  } catch (fault) { $("heard").textContent = fault.message; }
}
function findings() {
  $("findings").replaceChildren(...state.heard.map((slip) => {
    const row = document.createElement("li");
    const number = state.steps.findIndex((step) => step.key === slip.moment);
    const say = (text) => { const line = document.createElement("p"); line.textContent = text; row.append(line); };
    say(`${clock(slip.ms)}, step ${number + 1}: “${slip.quote}”`);
    say(slip.sure ? `Wrong. Right: ${slip.right}` : `Is that meant? I would expect: ${slip.right}`);
    if (slip.instead) say(`Say instead: ${slip.instead}`);
    const again = document.createElement("button"), correct = document.createElement("button");
    again.textContent = "Re-take this step";
    again.addEventListener("click", () => { show(Math.max(0, number), false); $("record").focus(); });
    correct.textContent = "Add to the lesson's corrections";
    correct.addEventListener("click", async () => {
      try {
        await ask("POST", "/corrections", { what: slip.instead || slip.right, where: `at ${clock(slip.ms)}` });
        correct.disabled = true; correct.textContent = "Added to the corrections";
      } catch (fault) { $("heard").textContent = fault.message; }
    });
    row.append(again, " ", correct);
    return row;
  }));
}

// -- controls

const commands = {
  next: () => show(state.at + 1),
  back: () => show(state.at - 1),
  full: () => { if (document.fullscreenElement) document.exitFullscreen(); else $("stage").requestFullscreen(); },
  speaker: () => window.open(`${base}/speaker`, `speaker ${lesson}`, "popup,width=900,height=640"),
  pen: () => { const on = !penOn(); $("pen").setAttribute("aria-pressed", on); $("stage").classList.toggle("pen", on); },
  wipe,
  start: () => {
    if (state.began === null) { state.began = performance.now() - planned(state.at); $("start").textContent = "Stop the clock"; }
    else { state.began = null; $("start").textContent = "Start the clock"; }
  },
  record: () => { if (state.recorder) state.recorder.stop(); else begin(); },
  fresh: async () => { if (!state.recorder) { state.recording = null; state.before = 0; kept(await ask("POST", "/recordings", { consent: $("consent").value })); show(0, false); } },
  remove: async () => {
    if (!state.recording || state.recorder || !confirm("Delete this recording from the machine?")) return;
    await ask("POST", `/recordings/${state.recording.id}/delete`, {});
    state.recording = null; state.before = 0; $("kept").textContent = "nothing yet"; $("listen-to").replaceChildren(); list();
  },
};
for (const [name, work] of Object.entries(commands)) if ($(name)) $(name).addEventListener("click", work);
const keys = { ArrowRight: "next", PageDown: "next", " ": "next", ArrowLeft: "back", PageUp: "back", f: "full", p: "pen", w: "wipe", r: recordable ? "record" : "start" };
document.addEventListener("keydown", (event) => {
  const busy = event.target.closest("input, audio, select, textarea") || (event.key === " " && event.target.closest("button, a"));
  if (busy || event.ctrlKey || event.metaKey || event.altKey || !keys[event.key]) return;
  event.preventDefault();
  commands[keys[event.key]]();
});
for (const kind of ["pointerdown", "pointermove"]) $("stage").addEventListener(kind, drawing);
$("stage").addEventListener("pointerup", () => { state.stroke = null; });
$("stage").addEventListener("pointerleave", () => $("pointer").classList.remove("seen"));
channel.addEventListener("message", ({ data }) => {
  if (data.kind === "hello") tell();
  if (data.kind === "command" && ["next", "back"].includes(data.name)) commands[data.name]();
});
if ($("captions")) $("captions").addEventListener("change", () => { if ($("captions").files[0]) hear($("captions").files[0]); });
window.addEventListener("beforeunload", (event) => { if (state.recorder) event.preventDefault(); });

(async () => {
  try {
    const told = await ask("GET", "/steps.json");
    state.steps = told.steps;
    let at = 0;
    if (recordable) {
      const all = (await ask("GET", "/recordings")).recordings, last = all[all.length - 1];
      if (last) {
        kept(last);
        at = Math.max(0, ...state.steps.map((step, number) => (step.key in last.steps ? number : 0)));
        if (last.lesson_sha256 !== told.sha256) $("kept").textContent += " (the lesson has changed since)";
      }
    }
    list();
    show(at, false);
    setInterval(tell, 500);
    document.body.dataset.ready = "yes";
  } catch (fault) { $("now").textContent = fault.message; }
})();

"use strict";
const quiz = JSON.parse(document.getElementById("quiz").textContent);
const place = "boardproof-quiz-" + quiz.paper;
const fields = [...document.querySelectorAll("[data-part]")];
const find = (id) => document.getElementById(id);

// Saved on this machine only; a browser that keeps nothing still works.
const load = () => { try { return JSON.parse(localStorage.getItem(place) || "{}"); } catch { return {}; } };
const save = (state) => { try { localStorage.setItem(place, JSON.stringify(state)); } catch { /* nothing is kept */ } };
const state = Object.assign({ student: quiz.student, answers: {} }, load());

const typed = (part) => {
  if (part.dataset.form === "choice" || part.dataset.form === "arrow") {
    const chosen = part.querySelector("input:checked");
    return chosen ? chosen.value : "";
  }
  if (part.dataset.form === "ranking") {
    const places = [...part.querySelectorAll("select")].map((each) => each.value);
    return places.every((each) => each) ? places.join(" > ") : "";
  }
  return part.querySelector("input,textarea").value.trim();
};
const put = (part, value) => {
  if (!value) return;
  if (part.dataset.form === "choice" || part.dataset.form === "arrow") {
    for (const each of part.querySelectorAll("input")) each.checked = each.value === value;
  } else if (part.dataset.form === "ranking") {
    const places = value.split(" > ");
    part.querySelectorAll("select").forEach((each, at) => { each.value = places[at] || ""; });
  } else part.querySelector("input,textarea").value = value;
};
const keep = () => {
  for (const part of fields) state.answers[part.dataset.part] = typed(part);
  const student = find("student");
  if (student) state.student = student.value.trim();
  save(state);
  const done = fields.filter((part) => typed(part)).length;
  find("done").textContent = `${done} of ${fields.length} parts answered. Saved on this device only.`;
};
for (const part of fields) put(part, state.answers[part.dataset.part]);
if (find("student")) find("student").value = state.student || "";
document.addEventListener("input", keep);
keep();

// Numbers as students write them: a mark, a power of ten, a prefix, a unit.
const prefixes = { "": 1, n: 1e-9, u: 1e-6, "µ": 1e-6, "μ": 1e-6, m: 1e-3, c: 1e-2, d: 1e-1, k: 1e3, M: 1e6, G: 1e9 };
const number = (text, unit) => {
  const plain = text.replace(/[−–]/g, "-").replace(/[\s\u202f\u00a0]/g, "").replace(/ohms?/gi, "Ω").replace(/Ω/g, "Ω");
  const found = /^([-+]?\d+(?:[.,]\d+)?|[-+]?[.,]\d+)(?:\/(\d+(?:[.,]\d+)?))?(?:[x×*·]10\^?([-+]?\d{1,2})|[eE]([-+]?\d{1,2}))?([a-zA-ZµμΩ]*)$/.exec(plain);
  if (!found) return null;
  const dot = (each) => Number(each.replace(",", "."));
  let value = dot(found[1]) / (found[2] ? dot(found[2]) : 1) * 10 ** Number(found[3] || found[4] || 0);
  const said = found[5];
  if (!said) return { value, unit: false };
  for (const [prefix, size] of Object.entries(prefixes)) if (said === prefix + unit) return { value: value * size, unit: true };
  return null;
};
// Formulas: read by hand, worked out at a few places; equal there means equal for a practice quiz.
const formula = (text, values) => {
  const tokens = text.replace(/\s+/g, " ").replace(/²/g, "^2").match(/[A-Za-z](?:_?\{?[A-Za-z0-9]+\}?)?|\d+(?:[.,]\d+)?|[-+*/^()·]| /g);
  if (!tokens || tokens.join("").replace(/ /g, "") !== text.replace(/\s+/g, "").replace(/²/g, "^2")) return NaN;
  const rest = tokens.filter((each) => each !== " ");
  let at = 0, depth = 0;
  const atom = () => {
    const token = rest[at++];
    if (token === undefined || ++depth > 200) return NaN;
    let value;
    if (token === "(") { value = sum(); if (rest[at++] !== ")") return NaN; }
    else if (token === "-") return -atom();
    else if (/^\d/.test(token)) value = Number(token.replace(",", "."));
    else value = values[token.replace(/[{}]/g, "")] ?? NaN;
    if (rest[at] === "^") { at++; value = value ** atom(); }
    return value;
  };
  const product = () => {
    let value = atom();
    while (at < rest.length && !/^[-+)]$/.test(rest[at])) {
      if (rest[at] === "/") { at++; value /= atom(); } else { if (/^[*·]$/.test(rest[at])) at++; value *= atom(); }
    }
    return value;
  };
  const sum = () => {
    let value = product();
    while (rest[at] === "+" || rest[at] === "-") value = rest[at++] === "+" ? value + product() : value - product();
    return value;
  };
  const value = sum();
  return at === rest.length ? value : NaN;
};
const near = (a, b, share) => Math.abs(a - b) <= share * Math.max(Math.abs(a), Math.abs(b)) + 1e-12;

const judge = (answer, key) => {
  if (!answer) return ["", "Write something first."];
  if (key.form === "number" || key.form === "shown") {
    const read = number(answer, key.symbol);
    if (!read) return ["wrong", `I can't read that as a number in ${key.symbol || "figures"}. Try ${key.like}.`];
    if (near(read.value, key.value, 0.01)) return ["right", !read.unit && key.symbol && !key.unit ? `Right in size; the unit is ${key.symbol}.` : `Right: ${key.shown}.`];
    const wrong = key.wrong.find((each) => near(read.value, each.value, 0.01));
    if (wrong) return ["wrong", `That comes out if one thinks: ${wrong.words} ${key.hint}`];
    if (near(Math.abs(read.value), Math.abs(key.value), 0.01)) return ["wrong", "The size is right, the sign is not."];
    for (let power = -6; power <= 6; power++) if (power && near(read.value, key.value * 10 ** power, 0.01)) return ["wrong", "The figures are right, a power of ten is off. Look at the prefix."];
    return ["wrong", `Not yet. ${key.hint}`];
  }
  if (key.form === "expression") {
    const text = answer.replace(/^[^=]*=/, "");
    const agrees = (which) => key.points.every((point, at) => near(formula(text, point), which[at], 1e-9));
    if (agrees(key.values)) return ["right", `Right: ${key.shown}.`];
    const wrong = key.wrong.find((each) => agrees(each.values));
    return ["wrong", wrong ? `That comes out if one thinks: ${wrong.words}` : "Not yet. Try small numbers in it."];
  }
  if (answer === key.value) return ["right", `Right: ${key.shown}.`];
  const wrong = key.wrong.find((each) => each.value === answer);
  return ["wrong", wrong ? `Chosen if one thinks: ${wrong.words} ${key.hint}` : `Not yet. ${key.hint}`];
};
for (const button of document.querySelectorAll("button[data-check]")) {
  button.addEventListener("click", () => {
    const part = document.querySelector(`[data-part="${button.dataset.check}"]`);
    const told = part.querySelector(".told");
    const key = quiz.keys[button.dataset.check];
    const [how, words] = key.form === "words" ? ["", `A full answer says: ${key.shown}.`] : judge(typed(part), key);
    told.className = `told ${how}`;
    told.textContent = words;
  });
}

// Handing back: the same keys as a table of answers, one JSON object a line.
const lines = () => fields.map((part) => {
  const answer = typed(part), [question, label] = part.dataset.part.split("|");
  return JSON.stringify({ schema: 1, version: quiz.versions[Number(question) - 1], student: state.student || "", paper: quiz.paper,
    question, part: label, answer, state: answer ? "given" : "blank", at: new Date().toISOString().slice(0, 19) + "Z" });
}).join("\n") + "\n";
const ready = () => {
  keep();
  if (state.student) return true;
  find("handed").textContent = "First write your code at the top.";
  find("student").focus();
  return false;
};
if (find("hand")) {
  find("hand").addEventListener("click", () => {
    if (!ready()) return;
    const link = document.createElement("a");
    link.href = URL.createObjectURL(new Blob([lines()], { type: "application/json" }));
    link.download = `answers-${state.student}-${quiz.paper}.jsonl`;
    link.click();
    find("handed").textContent = "The answer file is with your downloads. Hand it to your teacher.";
  });
  find("show").addEventListener("click", () => {
    if (!ready()) return;
    const bytes = new TextEncoder().encode(lines());
    let text = "";
    for (const byte of bytes) text += String.fromCharCode(byte);
    find("code").hidden = false;
    find("code").value = "BP1." + btoa(text);
    find("code").select();
    find("handed").textContent = "Copy the code and send it to your teacher.";
  });
}

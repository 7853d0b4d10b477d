"use strict";
const page = (() => {
  const element = document.getElementById("page-values");
  const values = JSON.parse(element.textContent);
  element.remove();
  return values;
})();
const $ = (id) => document.getElementById(id);
const calm = () => matchMedia("(prefers-reduced-motion: reduce)").matches;
const NEW = "http://www.w3.org/2000/svg";

function svgOf(width, height, title, words) {
  const svg = document.createElementNS(NEW, "svg");
  svg.setAttribute("viewBox", `0 0 ${width} ${height}`);
  svg.setAttribute("role", "img");
  svg.setAttribute("aria-label", words ? `${title}. ${words}` : title);
  svg.setAttribute("stroke-linejoin", "round");
  return svg;
}

function thing(number) {
  const group = document.createElementNS(NEW, "g");
  group.innerHTML = page.things[number];
  return group;
}

if (page.moments) (() => {
  const { moments, scenes, shapes } = page;
  const opened = new Set();
  const narrow = matchMedia("(max-width: 959px)");
  let at = 0, playing = false, timer = 0, moving = 0, svg = null, sound = null;
  const shape = () => (narrow.matches ? shapes.near : shapes.wide);

  // The curve of every movement: control points (0.2, 0) and (0, 1).
  function eased(share) {
    if (share <= 0 || share >= 1) return share >= 1 ? 1 : 0;
    let low = 0, high = 1;
    for (let n = 0; n < 24; n++) {
      const u = (low + high) / 2;
      if (0.6 * (1 - u) ** 2 * u + u ** 3 < share) low = u; else high = u;
    }
    return 3 * (1 - low) * low * low + low ** 3;
  }

  function put(group, what, n, marks) {
    const all = marks === "all" ? [group] : [...group.querySelectorAll("path,.text")].filter(
      (each) => /\br-(thick_20_)?plate\b/.test(each.getAttribute("class")) === (marks === "plates"));
    for (const each of all) {
      if (what === "fade") each.style.opacity = n[0];
      else if (what === "uncover") each.style.clipPath = `inset(-2px ${(1 - n[0]) * 100}% -2px -2px)`;
      else if (what === "turn") each.setAttribute("transform", `rotate(${n[0]} ${n[1]} ${n[2]})`);
      else if (what === "strokes") for (const path of each.querySelectorAll("path[stroke]:not([data-dashed])")) {
        if (path.hasAttribute("stroke-dasharray") && !path.hasAttribute("pathLength")) { path.dataset.dashed = ""; continue; }
        path.setAttribute("pathLength", "1");
        path.setAttribute("stroke-dasharray", "1 2");
        path.setAttribute("stroke-dashoffset", 1 - n[0]);
      } else {
        const told = group.told || (group.told = {});
        told[what] = n;
        const [x, y] = told.shift || [0, 0], [a, b, p, q] = told.squeeze || [1, 1, 0, 0];
        group.setAttribute("transform", `translate(${x} ${y}) translate(${p} ${q - y}) scale(${a} ${b}) translate(${-p} ${y - q})`);
      }
    }
  }

  function still() {
    cancelAnimationFrame(moving);
    svg.replaceChildren(...shape().boards[at].map(thing));
  }

  function draw(from) {
    const now = shape(), moment = moments[at];
    const made = svgOf(now.width, now.height, moment.title, moment.words);
    if (svg) svg.replaceWith(made); else $("board").append(made);
    svg = made;
    if (from === null || from === at) return still();
    const old = now.boards[from], fresh = now.boards[at];
    const mine = (numbers, others) => numbers.map((n, place) => [n, place]).filter(([n]) => !others.includes(n)).map(([, place]) => place);
    const ms = calm() ? 120 : 240;
    const changes = from + 1 === at && !calm() ? now.ways[from]
      : [...mine(old, fresh).map((n) => [n, "old", "fade", 0, ms, [1], [0], "all"]),
        ...mine(fresh, old).map((n) => [n, "new", "fade", 0, ms, [0], [1], "all"])];
    const going = new Map(changes.filter((c) => c[1] === "old").map((c) => [c[0], thing(old[c[0]])]));
    const coming = fresh.map(thing);
    svg.replaceChildren(...going.values(), ...coming);
    const length = Math.max(0, ...changes.map((c) => c[3] + c[4]));
    const begun = performance.now();
    cancelAnimationFrame(moving);
    const step = (time) => {
      const t = Math.max(0, time - begun);
      if (t >= length) return still();
      const seen = new Map();
      for (const [place, of, what, begin, lasts, start, end, marks] of changes) {
        let share = lasts ? Math.min(1, Math.max(0, (t - begin) / lasts)) : 1;
        if (what === "shift" || what === "squeeze" || what === "turn") share = eased(share);
        const group = of === "old" ? going.get(place) : coming[place];
        const n = start.map((a, i) => a + (end[i] - a) * share);
        if (what === "fade") {
          const key = of + place + marks;
          n[0] = Math.min(n[0], seen.get(key) ?? 1);
          seen.set(key, n[0]);
        }
        put(group, what, n, marks);
      }
      moving = requestAnimationFrame(step);
    };
    step(begun);
  }

  const answered = (n) => moments[n].cause !== "reveal" || opened.has(n);
  // How far the transcript may be read: to the next pause whose answer nobody asked for.
  function reach() {
    for (let n = at; n < moments.length; n++) if (n + 1 < moments.length && !answered(n + 1)) return n;
    return moments.length - 1;
  }
  const clock = (ms) => `${Math.floor(ms / 60000)}:${String(Math.floor(ms / 1000) % 60).padStart(2, "0")}`;

  function transcript() {
    const box = $("lines"), last = reach(), parts = [];
    let list = null, scene = -1;
    for (let n = 0; n <= last; n++) {
      const moment = moments[n];
      if (moment.scene !== scene) {
        scene = moment.scene;
        const title = document.createElement("h2");
        title.textContent = `${scene + 1} ${scenes[scene]}`;
        list = document.createElement("ol");
        parts.push(title, list);
      }
      if (!moment.said && !moment.shown && n !== at) continue;
      const line = document.createElement("li");
      if (n === at) { line.className = "now"; line.setAttribute("aria-current", "step"); }
      const go = document.createElement("button");
      go.type = "button";
      go.textContent = clock(moment.at);
      go.addEventListener("click", () => stop() || show(n));
      const words = document.createElement("div");
      if (answered(n)) words.innerHTML = `${moment.said ? `<p>${moment.said}</p>` : ""}${moment.shown}`;
      else words.textContent = "The answer stands here once you have asked for it.";
      line.append(go, words);
      list.append(line);
    }
    if (last < moments.length - 1) {
      const more = document.createElement("p");
      more.className = "quiet";
      more.textContent = "The rest follows after the pause.";
      parts.push(more);
    }
    box.replaceChildren(...parts);
  }

  function show(next, { link = true } = {}) {
    const from = svg ? at : null;
    at = Math.max(0, Math.min(moments.length - 1, next));
    const moment = moments[at];
    if (moment.cause === "reveal") opened.add(at);
    draw(from);
    $("said").innerHTML = $("captions").checked ? moment.said : "";
    $("told-words").textContent = moment.words;
    $("back").disabled = at === 0;
    $("on").disabled = at === moments.length - 1;
    $("here").href = `#${encodeURIComponent(moment.key)}`;
    const waits = moment.waits;
    $("wait").hidden = !waits;
    $("on").textContent = waits ? "On, with the answer" : "On one step";
    $("yours").hidden = !(moment.cause === "reveal" && $("mine").value);
    $("yours").textContent = `You wrote: ${$("mine").value}`;
    if (waits) {
      $("mine").value = "";
      $("about").textContent = `About ${moment.pause} seconds for most people.`;
    }
    [...$("chapters").children].forEach((each, scene) => {
      each.className = scene < moment.scene ? "" : scene === moment.scene ? "now" : "later";
      if (scene === moment.scene) each.firstChild.setAttribute("aria-current", "step"); else each.firstChild.removeAttribute("aria-current");
    });
    transcript();
    if (link) history.replaceState(null, "", `#${encodeURIComponent(moment.key)}`);
  }

  function stop() {
    playing = false;
    clearTimeout(timer);
    if (sound) sound.pause();
    $("play").textContent = "Play";
  }
  function go() {
    if (at === moments.length - 1) show(0);
    playing = true;
    $("play").textContent = "Stop";
    if (sound) {
      sound.currentTime = moments[at].at / 1000;
      sound.play();
    } else run();
  }
  function run() {
    clearTimeout(timer);
    const moment = moments[at];
    if (!playing) return;
    if (moment.waits) return stop();
    timer = setTimeout(() => {
      if (at === moments.length - 1) return stop();
      show(at + 1);
      run();
    }, moment.ms / Number($("pace").value));
  }
  function heard() {
    const ms = sound.currentTime * 1000, moment = moments[at];
    if (!playing) return;
    if (ms < moment.at + moment.ms) return;
    if (moment.waits || at === moments.length - 1) return stop();
    show(at + 1);
  }
  if (page.voice) {
    sound = new Audio(page.voice);
    sound.preload = "auto";
    sound.addEventListener("timeupdate", heard);
    sound.addEventListener("ended", () => stop());
    $("pace").addEventListener("change", () => { sound.playbackRate = Number($("pace").value); });
  }

  function reveal() {
    show(at + 1);
    go();
    $("play").focus();
  }
  const step = (by) => { const was = playing; stop(); show(at + by); if (was && by > 0) go(); };
  scenes.forEach((title, scene) => {
    const item = document.createElement("li"), button = document.createElement("button");
    const first = moments.findIndex((each) => each.scene === scene);
    const ms = moments.filter((each) => each.scene === scene).reduce((sum, each) => sum + each.ms, 0);
    item.style.flexGrow = ms;
    item.style.flexBasis = "0";
    button.type = "button";
    button.title = title;
    button.append(`${scene + 1} `);
    const name = document.createElement("span");
    name.textContent = title;
    button.append(name);
    button.addEventListener("click", () => { stop(); show(first); });
    item.append(button);
    $("chapters").append(item);
  });
  $("play").addEventListener("click", () => (playing ? stop() : moments[at].waits ? reveal() : go()));
  $("back").addEventListener("click", () => step(-1));
  $("on").addEventListener("click", () => step(1));
  $("show").addEventListener("click", reveal);
  $("captions").addEventListener("change", () => show(at, { link: false }));
  narrow.addEventListener("change", () => draw(null));
  document.addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    if (event.target.closest("input, select, textarea, button, summary, a, table")) {
      if (!event.target.closest("button") || event.key === " ") return;
    }
    if (event.key === "ArrowRight") step(1);
    else if (event.key === "ArrowLeft") step(-1);
    else if (event.key === " ") (playing ? stop() : go());
    else return;
    event.preventDefault();
  });
  const linked = () => moments.findIndex((each) => each.key === decodeURIComponent(location.hash.slice(1)));
  addEventListener("hashchange", () => { const n = linked(); if (n >= 0 && n !== at) { stop(); show(n, { link: false }); } });
  document.querySelector(".play").hidden = false;
  show(Math.max(0, linked()), { link: false });
})();

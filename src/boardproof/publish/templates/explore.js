const live = page.live;

// Follows a list of sums and products; null where something would be divided by nought.
function followForm(form, given) {
  const n = form.inputs.map(([name, , , , start]) => given[name] ?? start);
  for (const [op, a, b] of form.program) {
    if (op === "const") { const [over, under] = a.split("/"); n.push(Number(over) / Number(under ?? 1)); }
    else if (op === "add") n.push(n[a] + n[b]);
    else if (op === "sub") n.push(n[a] - n[b]);
    else if (op === "mul") n.push(n[a] * n[b]);
    else if (op === "div") n.push(n[a] / n[b]);
    else n.push(-n[a]);
  }
  if (form.nonzero.some((place) => n[place] === 0)) return null;
  return Object.fromEntries(Object.entries(form.outputs).map(([name, place]) => [name, n[place]]));
}

function shown(value, unit) {
  if (Math.abs(value) < 5e-10) value = 0;
  const size = Math.abs(value), digits = size === 0 ? 2 : Math.max(0, 2 - Math.floor(Math.log10(size)));
  const text = size >= 1e5 || (size && size < 1e-4) ? value.toExponential(2) : value.toFixed(Math.min(6, digits));
  return `${text.replace("-", "\u2212")}\u202f${unit}`;
}

if (live) (() => {
  const values = {}, near = matchMedia("(max-width: 959px)");
  const OHMS = [live.ohms / 20, live.ohms * 10];
  let ohms = live.ohms, joined = "connected", told = false;
  const withLoad = (how, R) => ({
    ...values,
    [`${live.load}:a`]: how === "open" ? 0 : 1,
    [`${live.load}:b`]: how === "open" ? 1 : how === "short" ? 0 : -R,
  });
  const letter = (name) => live.letters[name] ?? name;
  const make = (name, text, attributes = {}) => {
    const element = document.createElement(name);
    if (text) element.innerHTML = text;
    for (const [key, value] of Object.entries(attributes)) element.setAttribute(key, value);
    return element;
  };

  // -- what may be moved
  function slider(name, html, unit, least, most, start, set) {
    const row = make("div", "", { class: "slide" });
    const byRatio = least > 0;
    const to = (v) => (byRatio ? 1000 * Math.log(v / least) / Math.log(most / least) : 1000 * (v - least) / (most - least));
    const from = (s) => (byRatio ? least * (most / least) ** (s / 1000) : least + (most - least) * s / 1000);
    const id = `v-${name}`;
    const label = make("label", html, { for: id });
    const range = make("input", "", { type: "range", min: 0, max: 1000, step: 1, "aria-label": `${name}, slider` });
    const field = make("input", "", { type: "number", id, step: "any", min: least, max: most, "aria-label": `${name} in ${unit}` });
    range.value = to(start);
    field.value = Number(start.toPrecision(4));
    range.setAttribute("aria-valuetext", `${field.value} ${unit}`);
    range.addEventListener("input", () => {
      const value = Number(from(Number(range.value)).toPrecision(3));
      field.value = value;
      range.setAttribute("aria-valuetext", `${value} ${unit}`);
      set(value);
    });
    field.addEventListener("input", () => {
      const value = Number(field.value);
      const fits = field.value !== "" && value >= least && value <= most;
      field.setAttribute("aria-invalid", !fits);
      if (fits) { range.value = to(value); set(value); }
      else document.getElementById("why").textContent = `${name} goes from ${shown(least, unit)} to ${shown(most, unit)}.`;
    });
    row.append(label, range, field, make("span", unit));
    return row;
  }

  function choices(legend, name, options, set) {
    const box = make("fieldset", `<legend>${legend}</legend>`);
    options.forEach(([value, words], place) => {
      const label = make("label"), input = make("input", "", { type: "radio", name, value });
      input.checked = place === 0;
      input.addEventListener("change", () => set(value));
      label.append(input, words);
      box.append(label);
    });
    return box;
  }

  function tick(words, set, on) {
    const label = make("label", "", { class: "tick" }), input = make("input", "", { type: "checkbox" });
    input.checked = on;
    input.addEventListener("change", () => set(input.checked));
    label.append(input, ` ${words}`);
    return label;
  }

  const form = $("inputs");
  form.addEventListener("submit", (event) => event.preventDefault());
  for (const [name, unit, least, most, start, kind] of live.form.inputs) {
    values[name] = start;
    if (kind === "value") form.append(slider(name, letter(name), unit, least, most, start, (v) => { values[name] = v; work(); }));
  }
  form.append(slider(live.letter, letter(live.letter), "Ω", ...OHMS, live.ohms, (v) => { ohms = v; work(); }));
  const others = make("fieldset", "<legend>Parts</legend>");
  for (const [name, , , , start, kind] of live.form.inputs) {
    if (kind === "turn") others.append(tick(`${name} turned round`, (on) => { values[name] = on ? -1 : 1; work(); }, false));
    if (kind === "switch" && name.endsWith(":a") && name !== `${live.load}:a`) {
      const path = name.slice(0, -2);
      others.append(tick(`${path} closed`, (on) => { values[name] = on ? 1 : 0; values[`${path}:b`] = on ? 0 : 1; work(); }, start === 1));
    }
  }
  form.append(others);
  const ways = [["connected", "connected"], ["open", "taken off"]];
  if (live.tier !== "paper") ways.push(["short", "terminals shorted, in thought"]);
  const warning = $("warning");
  const terminals = choices("Load", "load", ways, (way) => {
    warning.hidden = true;
    if (way !== "short" || told) { joined = way; return work(); }
    $("warning-words").textContent = live.caution;
    warning.hidden = false;
    $("warned").focus();
  });
  form.append(terminals);
  $("warned").addEventListener("click", () => {
    told = true;
    warning.hidden = true;
    joined = "short";
    terminals.querySelector("[value=short]").focus();
    work();
  });
  $("unwarned").addEventListener("click", () => {
    warning.hidden = true;
    joined = "connected";
    const first = terminals.querySelector("input");
    first.checked = true;
    first.focus();
    work();
  });

  // -- pictures
  const mark = (name, attributes, text) => {
    const element = document.createElementNS(NEW, name);
    for (const [key, value] of Object.entries(attributes)) element.setAttribute(key, value);
    if (text !== undefined) element.textContent = text;
    return element;
  };

  function circuit(found) {
    const picture = near.matches ? live.near : live.wide, board = [...picture.board];
    const moved = [];
    for (const [path, [place, number]] of Object.entries(picture.turned)) if (values[path] === -1) { board[place] = number; moved.push(`${path} is turned round.`); }
    if (found) for (const part of live.parts) {
      const swap = picture.against[part.current];
      if (swap && found[`I:${part.path}`] < -1e-12) board[swap[0]] = swap[1];
    }
    if (joined === "short") { board.push(...picture.short); moved.push("The terminals are shorted, in thought."); }
    if (joined === "open") moved.push("The load is taken off.");
    const current = live.parts.find((each) => each.path === live.load).current;
    if (joined !== "connected" && picture.against[current]) board[picture.against[current][0]] = null;
    const svg = svgOf(0, 0, "Circuit", [picture.words, ...moved].join(" "));
    svg.setAttribute("viewBox", picture.box.join(" "));
    svg.append(...board.filter((each) => each !== null).map(thing));
    $("circuit").replaceChildren(svg);
  }

  function nice(most) {
    const step = 10 ** Math.floor(Math.log10(most / 2));
    return [1, 2, 2.5, 5, 10].map((each) => each * step).find((each) => most / each <= 5);
  }

  // A graph of 460 by 280: axes with ticks outward, names at their ends.
  function graph(box, title, words, [xName, xMost], [yName, yLeast, yMost], fill) {
    const svg = svgOf(460, 292, title, words);
    const x = (v) => 56 + 372 * v / xMost, y = (v) => 240 - 204 * (v - yLeast) / (yMost - yLeast);
    const line = (d, more) => svg.append(mark("path", { d, fill: "none", stroke: "var(--quiet)", "stroke-width": 1.5, ...more }));
    const zero = y(Math.max(0, yLeast));
    line(`M56 28V240M56 ${zero}H440`);
    for (let v = 0, step = nice(xMost); v <= xMost * 1.0001; v += step) {
      line(`M${x(v)} ${zero}v6`);
      svg.append(mark("text", { x: x(v), y: zero + 22, "text-anchor": "middle", class: "quietly" }, String(Number(v.toPrecision(3)))));
    }
    const step = nice(yMost - yLeast);
    for (let v = Math.ceil(yLeast / step - 1e-9) * step; v <= yMost * 1.0001; v += step) {
      line(`M56 ${y(v)}h-6`);
      svg.append(mark("text", { x: 46, y: y(v) + 5, "text-anchor": "end", class: "quietly" }, String(Number(v.toPrecision(3))).replace("-", "\u2212")));
    }
    svg.append(mark("text", { x: 8, y: 16 }, yName), mark("text", { x: 440, y: Math.min(286, zero + 44), "text-anchor": "end" }, xName));
    fill(x, y, line, svg);
    $(box).replaceChildren(svg);
  }
  const ring = (svg, x, y) => svg.append(
    mark("circle", { cx: x, cy: y, r: 6, fill: "none", stroke: "var(--focus)", "stroke-width": 2.5 }),
    mark("circle", { cx: x, cy: y, r: 2, fill: "var(--focus)" }));
  const dashes = { stroke: "var(--focus)", "stroke-dasharray": "4 4" };
  const curve = { stroke: "var(--ink)", "stroke-width": 2.5, "stroke-linejoin": "round" };

  function graphs(found) {
    for (const box of ["line", "power", "height"]) $(box).replaceChildren();
    if (!found) return;
    const short = followForm(live.form, withLoad("short", ohms)), free = followForm(live.form, withLoad("open", ohms));
    if (short && free && free.V > 0 && short.I > 0) {
      const words = `From ${shown(free.V, "V")} with no current to ${shown(short.I, "A")} with no p.d.; now ${shown(found.V, "V")} and ${shown(found.I, "A")}.`;
      graph("line", "The source's V-I line", words, ["current / A", short.I * 1.08], ["terminal p.d. / V", 0, free.V * 1.12], (x, y, line, svg) => {
        line(`M${x(0)} ${y(free.V)}L${x(short.I)} ${y(0)}`, curve);
        line(`M${x(found.I)} ${y(0)}V${y(found.V)}H${x(0)}`, dashes);
        ring(svg, x(found.I), y(found.V));
      });
    }
    const most = Math.max(2 * ohms, 4 * found.resistance);
    const points = Array.from({ length: 61 }, (_, n) => [most * n / 60, followForm(live.form, withLoad("connected", most * n / 60))?.P ?? 0]);
    const top = Math.max(...points.map(([, p]) => p));
    if (top > 0) graph("power", "Power in the load", `Now ${shown(found.P, "W")}; greatest near a load of ${shown(found.resistance, "Ω")}.`, ["load / Ω", most], ["power / W", 0, top * 1.15], (x, y, line, svg) => {
      line(`M${points.map(([R, p]) => `${x(R)} ${y(p)}`).join("L")}`, curve);
      if (joined === "connected") { line(`M${x(ohms)} ${y(0)}V${y(found.P)}H${x(0)}`, dashes); ring(svg, x(ohms), y(found.P)); }
    });
    heights(found);
  }

  function heights(found) {
    const steps = [];
    for (const path of live.loop) {
      const part = live.parts.find((each) => each.path === path);
      if (part.kind === "cell" || part.kind === "source") {
        steps.push([`EMF ${path}`, found[`V:${path}`] + found[`lost:${path}`]]);
        if (part.kind === "cell") steps.push([`inside ${path}`, -found[`lost:${path}`]]);
      } else steps.push([path, found[`V:${path}`]]);
    }
    const sum = steps.reduce((total, [, change]) => total + change, 0);
    steps.push(["load", -sum]);
    const levels = [0];
    for (const [, change] of steps) levels.push(levels.at(-1) + change);
    const low = Math.min(...levels), high = Math.max(...levels, low + 1e-9), pad = 0.1 * (high - low);
    const wide = near.matches ? 460 : 940, each = (wide - 90) / steps.length;
    const svg = svgOf(wide, 260, "Potential round the loop", steps.map(([name, change]) => `${name}: ${shown(change, "V")}`).join("; "));
    const y = (v) => 200 - 160 * (v - low + pad) / (high - low + 2 * pad);
    const step = nice(high - low + 2 * pad);
    for (let v = Math.ceil(low / step) * step; v <= high + pad; v += step) {
      svg.append(mark("path", { d: `M60 ${y(v)}H${wide - 30}`, stroke: "var(--line)", "stroke-width": 1 }),
        mark("text", { x: 50, y: y(v) + 5, "text-anchor": "end", class: "quietly" }, String(Number(v.toPrecision(3))).replace("-", "\u2212")));
    }
    let d = `M60 ${y(0)}`;
    steps.forEach(([name, change], n) => {
      const from = 60 + n * each, to = from + each;
      d += `L${from + 0.25 * each} ${y(levels[n])}L${from + 0.75 * each} ${y(levels[n + 1])}L${to} ${y(levels[n + 1])}`;
      const under = 228;
      svg.append(mark("text", { x: from + each / 2, y: under, "text-anchor": "middle" }, name),
        mark("text", { x: from + each / 2, y: under + 20, "text-anchor": "middle", class: "quietly" }, shown(change, "V")));
    });
    svg.append(mark("path", { d, fill: "none", ...curve }), mark("text", { x: 8, y: 18 }, "potential / V"));
    $("height").replaceChildren(svg);
  }

  // The source's EMF is its p.d. with the load taken off; null where a switch leaves no way through.
  const emf = () => followForm(live.form, withLoad("open", ohms))?.V ?? null;

  function table(found) {
    const rows = live.parts.map((part) => {
      const I = found[`I:${part.path}`], turn = values[part.path] ?? 1, V = found[`V:${part.path}`];
      const short = joined === "short" && part.path === live.load;
      const isCell = part.kind === "cell" || part.kind === "source";
      const way = !isCell || Math.abs(I) < 1e-12 ? "" : I * turn > 0 ? "out of its plus" : "into its plus: driven backwards";
      return `<tr><th scope="row">${short ? "the short" : part.path}</th><td>${short ? "" : `${letter(part.current)} =`} ${shown(Math.abs(I), "A")} ${way}</td><td>${shown(Math.abs(V), "V")}</td><td>${isCell ? shown(found[`heat:${part.path}`], "W") : ""}</td></tr>`;
    });
    const E = emf();
    const whole = `<tr><th scope="row">source</th><td>${E === null ? "no way through" : `EMF ${shown(E, "V")}`}</td><td>${E === null ? "" : `resistance ${shown(found.resistance, "Ω")}`}</td><td></td></tr>`;
    $("readings").innerHTML = `<caption>Currents and p.d.s</caption><thead><tr><th scope="col">part</th><th scope="col">current</th><th scope="col">p.d.</th><th scope="col">heat inside</th></tr></thead><tbody>${rows.join("")}${whole}</tbody>`;
  }

  function work() {
    let found = followForm(live.form, withLoad(joined, ohms));
    if (found && !Object.values(found).every(Number.isFinite)) found = null;
    const E = emf() ?? 0;
    const heavy = found && (Math.abs(E) > 60 || E * E / found.resistance > 1000);
    const short = terminals.querySelector("[value=short]");
    if (short) {
      short.disabled = Boolean(heavy);
      if (heavy && joined === "short") { joined = "connected"; terminals.querySelector("input").checked = true; return work(); }
    }
    $("why").textContent = found ? (heavy ? "Above 60 V or 1 kW this is for paper only: no short is offered." : "")
      : "There is no answer for these values: nothing limits a current, or a sum would be divided by nought.";
    circuit(found);
    if (found) table(found); else $("readings").replaceChildren();
    graphs(found);
  }
  near.addEventListener("change", work);
  work();
  if (live.boxes) closedBoxes(withLoad, OHMS, mark, make);
})();

function closedBoxes(withLoad, [least, most], mark, make) {
  const boxes = live.boxes, holds = { group: crypto.getRandomValues(new Uint8Array(1))[0] % 2 ? "A" : "B" };
  const start = Object.fromEntries(live.form.inputs.map(([name, , , , value]) => [name, value]));
  const load = (R) => ({ [`${live.load}:a`]: R === null ? 0 : 1, [`${live.load}:b`]: R === null ? 1 : -R });
  const read = (box, R) => (box === holds.group ? followForm(live.form, { ...start, ...load(R) }) : followForm(boxes.one, load(R)));
  let lifted = false;
  const range = $("try");
  Object.assign(range, { min: 0, max: 1000, step: 1, value: 500 });
  const ohms = () => Number((least * (most / least) ** (Number(range.value) / 1000)).toPrecision(2));

  function draw(name, values) {
    const svg = svgOf(460, 250, `Box ${name}`, `${lifted ? "lid lifted" : "lid closed"}; ammeter ${shown(values.I, "A")}, voltmeter ${shown(values.V, "V")}`);
    const ink = { fill: "none", stroke: "var(--ink)", "stroke-width": 2 };
    const text = (x, y, words, more = {}) => svg.append(mark("text", { x, y, ...more }, words));
    svg.append(mark("rect", { x: 20, y: 26, width: 244, height: 206, rx: 4, ...ink, fill: "var(--shade)" }));
    text(142, 146, `Box ${name}`, { "text-anchor": "middle", "font-weight": 700 });
    text(142, 172, lifted ? "lid lifted: see below" : "lid closed", { "text-anchor": "middle", class: "quietly" });
    const lid = mark("g", { class: "lid" });
    lid.append(mark("path", { d: "M20 70H264", ...ink }), mark("path", { d: "M112 48H172", ...ink, "stroke-width": 4, "stroke-linecap": "round" }));
    if (!lifted) svg.append(lid);
    svg.append(mark("path", { d: "M264 96H336M368 96H430V126M430 178V206H264M304 96V134M304 166V206", ...ink }),
      mark("rect", { x: 421, y: 126, width: 18, height: 52, ...ink, fill: "var(--lamp)", stroke: "var(--focus)", "stroke-width": 3 }));
    for (const [x, y, letter] of [[352, 96, "A"], [304, 150, "V"]]) {
      svg.append(mark("circle", { cx: x, cy: y, r: 16, ...ink, fill: "var(--paper)" }));
      text(x, y + 5, letter, { "text-anchor": "middle" });
    }
    for (const y of [96, 206]) svg.append(mark("circle", { cx: 264, cy: y, r: 5, ...ink, fill: "var(--paper)" }));
    text(254, 101, "+", { "text-anchor": "end" });
    text(254, 211, "\u2212", { "text-anchor": "end" });
    text(352, 70, shown(values.I, "A"), { "text-anchor": "middle" });
    text(326, 155, shown(values.V, "V"));
    text(412, 157, live.letter, { "text-anchor": "end", "font-style": "italic" });
    const inside = [];
    if (lifted) {
      const held = boxes.lids[name === holds.group ? 0 : 1];
      const under = svgOf(held.width, held.height, `In box ${name}`, held.words);
      under.style.maxWidth = "420px";
      under.append(...held.board.map(thing));
      inside.push(under);
    }
    $(`box-${name}`).replaceChildren(svg, ...inside);
  }

  function work() {
    $("tried").textContent = shown(ohms(), "Ω");
    range.setAttribute("aria-valuetext", `${ohms()} ohm`);
    for (const name of ["A", "B"]) draw(name, read(name, ohms()));
  }
  range.addEventListener("input", work);
  $("read").addEventListener("click", () => {
    const cells = ["A", "B"].map((name) => read(name, ohms())).map((each) => `<td>${shown(each.V, "V")}, ${shown(each.I, "A")}</td>`);
    const row = make("tr", `<th scope="row">${shown(ohms(), "Ω")}</th>${cells.join("")}`);
    document.querySelector("#tries tbody").append(row);
  });
  for (const each of document.querySelectorAll("#choice input")) each.addEventListener("change", () => { $("lift").disabled = lifted; });
  $("choice").addEventListener("submit", (event) => event.preventDefault());
  $("lift").addEventListener("click", () => {
    const chosen = document.querySelector("#choice input:checked").value, tries = document.querySelectorAll("#tries tbody tr").length;
    lifted = true;
    $("lift").disabled = true;
    for (const each of document.querySelectorAll("#choice input")) each.disabled = true;
    const said = `The ${boxes.cells} cells are in ${holds.group}.`;
    const lucky = chosen === holds.group ? " You named it, but the meters did not tell you." : "";
    $("judged").textContent = `${said}${chosen === "none" ? "" : lucky} At the terminals both do the same whatever the load: no reading can tell${tries ? `, and none of your ${tries} did` : ""}.`;
    $("touch").hidden = false;
    work();
  });
  $("feel").addEventListener("click", () => {
    const rest = (box) => Object.entries(read(box, null)).filter(([name]) => name.startsWith("heat")).reduce((sum, [, value]) => sum + value, 0);
    const group = rest(holds.group), single = rest(holds.group === "A" ? "B" : "A");
    $("felt").textContent = `With nothing connected the ${boxes.cells} cells turn ${shown(group, "W")} into heat, the single cell ${shown(single, "W")}. `
      + (group > 1e-12 ? "A current runs round among unlike cells: that box grows warm. Real unlike cells are never left joined." : "Neither grows warm: here the hand cannot tell either.");
  });
  work();
}

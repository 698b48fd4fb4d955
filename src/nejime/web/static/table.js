// The arranging table: what a hand does becomes one change, the server answers what it means.
//
// A change that is still being made is only tried; when the hand lets go it is kept. Answers come
// back in the order of the questions, and what could not be kept is sent again.

import { createStage } from "./stage.js";

const state = read("state");
const words = read("words");
const $ = (id) => document.getElementById(id);
const piece = `/table/${state.id}`;

let now = state; // what the page shows
let version = state.version;
let selected = null;
let view = "front";
let stage = null;
let trying = false; // a try is on its way
let waiting = null; // the newest try that has not been sent
const queue = []; // changes to keep, in order
let keeping = false;

function read(id) {
  return JSON.parse(document.getElementById(id).textContent);
}

// ---------------------------------------------------------------- asking the server

async function ask(path, body) {
  const answer = await fetch(path, {
    method: "POST",
    headers: { "Content-Type": "application/json" },
    body: JSON.stringify(body ?? {}),
  });
  return { status: answer.status, told: await answer.json() };
}

async function tryChange(change) {
  if (trying) {
    waiting = change;
    return;
  }
  trying = true;
  try {
    const { status, told } = await ask("/table/try", { tree: now.tree, change });
    if (status === 200 && drag) showNumbers(told);
  } catch {
    // the hand goes on; keeping will say it
  }
  trying = false;
  if (waiting) {
    const next = waiting;
    waiting = null;
    tryChange(next);
  }
}

function keep(change, tree) {
  queue.push({ change, tree });
  if (!keeping) sendNext();
}

async function sendNext() {
  keeping = true;
  let well = true;
  say(words.saving);
  while (queue.length) {
    const { change, tree } = queue[0];
    let answer;
    try {
      answer = await ask(`${piece}/keep`, { tree: tree ?? now.tree, change, base: version });
    } catch {
      say(words.lost);
      await pause(1500);
      continue;
    }
    queue.shift();
    well = answer.status === 200;
    if (answer.status === 409) conflict(answer.told);
    else if (answer.status === 422) wrong(answer.told.wrong);
    else if (well) take(answer.told);
    else {
      queue.unshift({ change, tree });
      say(words.lost);
      await pause(1500);
    }
  }
  keeping = false;
  say(well ? words.kept : words.notKept);
}

const pause = (ms) => new Promise((done) => setTimeout(done, ms));
const say = (text) => ($("kept").textContent = text);

function take(told) {
  now = told;
  version = told.version;
  $("trouble").hidden = true;
  show(told);
}

function wrong(faults) {
  const card = selected && document.querySelector(`.stem[data-id="${selected}"] .fault`);
  const text = Object.values(faults).join(" ");
  const place = card ?? $("trouble");
  place.textContent = text;
  place.hidden = false;
  if (!card) show(now);
  say("");
}

function conflict(told) {
  $("conflict").hidden = false;
  $("theirs").onclick = () => {
    $("conflict").hidden = true;
    take(told.conflict);
  };
  $("mine").onclick = () => {
    $("conflict").hidden = true;
    version = told.conflict.version;
    keep(null, told.mine.tree);
  };
}

// ---------------------------------------------------------------- showing

function show(told) {
  showNumbers(told);
  showWhole(told);
  $("back").disabled = !told.can_undo;
  $("forth").disabled = !told.can_redo;
  if (stage) {
    stage.show(told.wire).then(() => {
      ghosts();
      marks();
      stage.select(selected);
    });
  }
}

function showNumbers(told) {
  const word = $("word");
  word.textContent = words[told.standing.word];
  word.className = `word ${{ stands: "stands", "try-first": "try", falls: "falls" }[told.standing.word]}`;
  $("reason").textContent = told.standing.says;
  fill($("standing-helps"), told.standing.helps ?? [], helpLine);
  fill($("standing-remarks"), told.standing.remarks ?? [], (text) => line(text));
  $("standing-more").hidden = !(told.standing.remarks ?? []).length;
  fill($("findings"), told.findings, findingLine);
  $("no-findings").hidden = told.findings.length > 0;
  showStems(told);
  if (drag) marks(told);
}

function fill(list, things, made) {
  list.replaceChildren(...things.map(made));
}

function line(text) {
  const item = document.createElement("li");
  item.textContent = text;
  return item;
}

function helpLine(help) {
  const item = line(help.says);
  if (help.tree) item.append(" ", button(words.do, () => keep(null, help.tree), help.says));
  return item;
}

function findingLine(finding) {
  const item = line(finding.says);
  item.className = finding.fault ? "is-fault" : "";
  if (finding.stems.length) {
    item.addEventListener("pointerenter", () => stage?.select(finding.stems.at(-1)));
    item.addEventListener("pointerleave", () => stage?.select(selected));
  }
  if (finding.help) {
    const help = document.createElement("p");
    help.className = "help";
    help.textContent = finding.help.says;
    item.append(help);
    if (finding.help.tree) help.append(" ", button(words.do, () => keep(null, finding.help.tree), finding.help.says));
  }
  return item;
}

function button(text, act, about) {
  const made = document.createElement("button");
  made.type = "button";
  made.className = "small-button";
  made.textContent = text;
  if (about) made.setAttribute("aria-label", `${text}: ${about}`);
  made.addEventListener("click", act);
  return made;
}

function showWhole(told) {
  $("vessel").textContent = told.vessel;
  $("holder").textContent = told.holder?.says ?? "";
  $("water").textContent = told.water;
  for (const field of document.querySelectorAll("[data-whole]")) {
    field.value = told.tree[field.dataset.whole] ?? field.value;
  }
  const vessel = told.tree.vessel;
  for (const key of ["shape", "width", "depth", "height"]) {
    const field = $(`v-${key}`);
    if (document.activeElement !== field) field.value = vessel[key] ?? "";
  }
  document.querySelector(".holder-keys").hidden = !told.holder;
}

// ---------------------------------------------------------------- the list of stems

function showStems(told) {
  const list = $("stems");
  const known = new Map([...list.children].map((card) => [card.dataset.id, card]));
  const cards = told.stems.map((stem) => known.get(stem.id) ?? newCard(stem));
  if (cards.length !== list.children.length || cards.some((card, at) => list.children[at] !== card)) {
    list.replaceChildren(...cards);
  }
  told.stems.forEach((stem, at) => fillCard(cards[at], stem, told));
}

function newCard(stem) {
  const card = $("stem-card").content.firstElementChild.cloneNode(true);
  card.dataset.id = stem.id;
  card.dataset.role = stem.role;
  const body = card.querySelector(".stem-body");
  body.id = `body-${stem.id}`;
  const head = card.querySelector(".stem-line");
  head.setAttribute("aria-controls", body.id);
  head.addEventListener("click", () => select(selected === stem.id ? null : stem.id));
  for (const field of card.querySelectorAll(".field")) {
    const input = field.querySelector("input, select");
    input.id = `${stem.id}-${input.dataset.field ?? input.dataset.slide}`;
    field.querySelector("label").htmlFor = input.id;
  }
  drawing(stem.id, card.querySelector(".line-sheet"));
  const have = card.querySelector("[data-have]");
  have.id = `${stem.id}-have`;
  have.previousElementSibling.htmlFor = have.id;
  card.querySelector('[data-field="plant"]').replaceChildren(...[...$("add-plant").options].map((o) => o.cloneNode(true)));
  card.addEventListener("change", (event) => typed(stem.id, event.target));
  card.addEventListener("input", (event) => slid(stem.id, event.target));
  card.addEventListener("click", (event) => pressed(stem.id, event.target.closest("button")));
  return card;
}

function fillCard(card, stem, told) {
  const chosen = stem.id === selected;
  card.classList.toggle("chosen", chosen);
  const head = card.querySelector(".stem-line");
  head.setAttribute("aria-expanded", String(chosen));
  card.querySelector(".stem-body").hidden = !chosen;
  card.querySelector(".stem-name").textContent = [stem.name, stem.label].filter(Boolean).join(", ");
  card.querySelector(".stem-numbers").textContent = `${stem.plant_name} · ${stem.cut} · ${stem.lean} · ${stem.direction}`;
  const reasons = [];
  if (told.standing.stems.includes(stem.id)) reasons.push(told.standing.says);
  for (const each of told.findings) if (each.stems.at(-1) === stem.id) reasons.push(each.says);
  card.classList.toggle("has-reason", reasons.length > 0);
  if (stem.lifted) reasons.push(words.lifted);
  card.querySelector(".reason-here").textContent = reasons.join(" ");
  put(card, "length", stem.length);
  put(card, "lean", stem.lean);
  put(card, "direction", stem.direction);
  put(card, "plant", stem.plant);
  put(card, "roll", stem.roll_deg);
  put(card, "open", stem.stage);
  card.querySelector('[data-act="take"]').hidden = stem.role === "main";
  card.querySelector('[data-act="back"]').disabled = !stem.moved;
}

function put(card, name, value) {
  const field = card.querySelector(`[data-field="${name}"], [data-slide="${name}"]`);
  if (document.activeElement !== field || field.dataset.slide || field.tagName === "SELECT") field.value = value;
}

const stemOf = (id) => now.stems.find((stem) => stem.id === id);

function typed(id, field) {
  field.closest(".stem").querySelector(".fault").hidden = true;
  if (field.dataset.field) keep({ act: "stem", id, [field.dataset.field]: field.value });
  if (field.dataset.slide) keep({ act: "stem", id, [field.dataset.slide]: Number(field.value) });
}

function slid(id, field) {
  if (field.dataset.slide !== "roll" || !stage) return;
  const stem = now.wire.stems.find((each) => each.id === id);
  stage.move(id, { ...stem.pose, roll: Number(field.value) });
}

function pressed(id, key) {
  if (!key) return;
  const { step, by, act } = key.dataset;
  if (step) nudge(id, step, Number(by));
  if (act === "unline") keep({ act: "stem", id, off: [] });
  if (act === "short") short(id, key.closest(".stem"));
  if (act === "another") keep({ act: "stem", id, another: true });
  if (act === "back") keep({ act: "back", id });
  if (act === "take") {
    selected = null;
    keep({ act: "take", id });
  }
}

// A branch of her own: the line that was drawn, as how far it is off its straight line.
const STEPS = 11;

function drawing(id, sheet) {
  let points = null;
  const at = (event) => {
    const box = sheet.getBoundingClientRect();
    return [((event.clientX - box.left) / box.width) * 100, ((event.clientY - box.top) / box.height) * 160];
  };
  sheet.addEventListener("pointerdown", (event) => {
    sheet.setPointerCapture(event.pointerId);
    points = [at(event)];
  });
  sheet.addEventListener("pointermove", (event) => {
    if (!points) return;
    points.push(at(event));
    sheet.querySelector(".line-drawn").setAttribute("points", points.join(" "));
  });
  sheet.addEventListener("pointerup", () => {
    const line = points;
    points = null;
    const off = line && offLine(line);
    if (off) keep({ act: "stem", id, off });
  });
}

function offLine(line) {
  const [foot, tip] = line[0][1] >= line.at(-1)[1] ? [line[0], line.at(-1)] : [line.at(-1), line[0]];
  const way = [tip[0] - foot[0], tip[1] - foot[1]];
  const length = Math.hypot(...way);
  if (length < 30) return null;
  const [ux, uy] = [way[0] / length, way[1] / length];
  // Along the straight line, and to the right of it as it is seen.
  const told = line.map(([x, y]) => [x - foot[0], y - foot[1]]).map(([x, y]) => [(x * ux + y * uy) / length, (x * -uy + y * ux) / length]);
  return Array.from({ length: STEPS }, (_, step) => {
    const share = (step + 1) / (STEPS + 1);
    const near = told.reduce((best, each) => (Math.abs(each[0] - share) < Math.abs(best[0] - share) ? each : best));
    return Math.max(-0.6, Math.min(0.6, Math.round(near[1] * 1000) / 1000));
  });
}

async function short(id, card) {
  const { status, told } = await ask("/table/short", { tree: now.tree, id, have: card.querySelector("[data-have]").value });
  if (status === 422) return wrong(told.wrong);
  card.querySelector(".fault").hidden = true;
  fill(card.querySelector(".ways"), [{ says: told.says }, ...told.ways], helpLine);
}

function nudge(id, what, by) {
  const stem = stemOf(id);
  const change = { act: "stem", id };
  if (what === "length") change.length = Math.max(1, stem.length_cm + by);
  if (what === "lean") change.lean = Math.min(135, Math.max(0, stem.asked_deg + by));
  if (what === "direction") change.direction = (stem.bearing_deg + by + 360) % 360;
  keep(change);
}

function select(id) {
  selected = id;
  stage?.select(id);
  showStems(now);
  const card = id && document.querySelector(`.stem[data-id="${id}"]`);
  const side = document.querySelector(".table-side");
  // Only the list scrolls: the picture must not move under a hand that holds a stem.
  if (card && side.scrollHeight > side.clientHeight) {
    const below = card.getBoundingClientRect().bottom - side.getBoundingClientRect().bottom;
    const above = card.getBoundingClientRect().top - side.getBoundingClientRect().top;
    if (below > 0 || above < 0) side.scrollTop += above < 0 ? above : Math.min(below, above);
  }
}

// ---------------------------------------------------------------- dragging

let drag = null;

// House directions in which each flat view looks.
const LOOKS = { front: [0, 1, 0], side: [-1, 0, 0], plan: [0, 0, -1] };
const dot = (a, b) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const minus = (a, b) => a.map((each, at) => each - b[at]);
const plus = (a, b, times = 1) => a.map((each, at) => each + times * b[at]);
const long = (a) => Math.hypot(...a);

// Where the line from its start goes when its end is dragged to a point of the screen.
function lineTo(stem, point) {
  const was = minus(stem.end, stem.start);
  const wish = minus(point, stem.start);
  if ($("stretch").getAttribute("aria-pressed") === "true") return wish;
  const length = stem.length_cm;
  const look = LOOKS[view];
  if (!look) return wish.map((each) => (each * length) / (long(wish) || 1));
  const depth = dot(was, look);
  const flat = plus(wish, look, -dot(wish, look));
  const across = long(flat);
  if (across >= length) return flat.map((each) => (each * length) / across);
  const deep = Math.sqrt(length ** 2 - across ** 2) * (Math.sign(depth) || -1);
  return plus(flat, look, deep);
}

function poseOf(stem, way) {
  const chord = Math.max(1, long(way));
  const tilt = (Math.acos(Math.max(-1, Math.min(1, way[2] / chord))) * 180) / Math.PI;
  const bearing = ((Math.atan2(way[0], way[1]) * 180) / Math.PI + 360) % 360;
  return { tilt, bearing, chord };
}

function onDrag({ id, part, point }) {
  if (part === "holder") {
    drag = { change: { act: "holder", x: point[0], y: point[1] } };
    tryChange(drag.change);
    return;
  }
  const stem = stemOf(id);
  const pose = now.wire.stems.find((each) => each.id === id).pose;
  if (selected !== id) select(id);
  if (part === "foot") {
    drag = { change: { act: "stem", id, foot: [point[0], point[1]] } };
    stage.move(id, { ...pose, foot: [point[0], point[1], pose.foot[2]] });
  } else {
    const found = poseOf(stem, lineTo(stem, point));
    drag = { change: { act: "stem", id, lean: Math.min(135, found.tilt), direction: found.bearing } };
    if ($("stretch").getAttribute("aria-pressed") === "true") drag.change.length = found.chord;
    stage.move(id, { ...pose, ...found });
  }
  tryChange(drag.change);
}

function onDrop() {
  if (!drag) return;
  const { change } = drag;
  drag = null;
  waiting = null;
  keep(change);
}

function keys(event) {
  const move = {
    ArrowLeft: ["direction", -5], ArrowRight: ["direction", 5],
    ArrowUp: ["lean", -2], ArrowDown: ["lean", 2],
    "+": ["length", 1], "=": ["length", 1], "-": ["length", -1],
  }[event.key];
  if (move && selected) {
    event.preventDefault();
    event.stopPropagation();
    nudge(selected, ...move);
  } else if (event.key === "Escape") {
    select(null);
  } else if (event.key === "Enter" || event.key === "n") {
    const ids = now.stems.map((stem) => stem.id);
    select(ids[(ids.indexOf(selected) + 1) % ids.length]);
  }
}

// ---------------------------------------------------------------- on the picture

function ghosts() {
  const on = $("ghost").getAttribute("aria-pressed") === "true";
  stage.ghost(on ? now.ghost.map(({ from, to }) => ({ from, to })) : []);
}

function marks(told = now) {
  const box = $("marks");
  const on = $("numbers").getAttribute("aria-pressed") === "true" && stage;
  if (!on) return box.replaceChildren();
  const wide = box.clientWidth;
  const placed = [];
  const made = [];
  for (const stem of told.stems.filter((each) => each.role === "main" || each.id === selected)) {
    const at = stage.project(stem.end);
    if (!at) continue;
    const mark = document.createElement("span");
    mark.className = "mark";
    mark.textContent = `${stem.label ? stem.label.split(" ").at(-1) + " " : ""}${stem.cut} · ${stem.lean}`;
    box.append(mark);
    const half = mark.offsetWidth / 2 || 40;
    const x = Math.min(Math.max(at.x, half + 4), wide - half - 4);
    let y = Math.max(26, at.y - 12);
    while (placed.some((other) => Math.abs(other.y - y) < 24 && Math.abs(other.x - x) < other.half + half)) y += 25;
    placed.push({ x, y, half });
    mark.style.left = `${x}px`;
    mark.style.top = `${y}px`;
    made.push(mark);
  }
  box.replaceChildren(...made);
}

// ---------------------------------------------------------------- where could the next stems go?

let job = null;

async function suggest() {
  $("suggestions").hidden = false;
  $("suggested").replaceChildren();
  $("suggest-progress").hidden = $("suggest-stop").hidden = false;
  $("suggest-progress").value = 0;
  const { told } = await ask(`${piece}/suggest`, { tree: now.tree });
  job = told.job;
  while (job) {
    const answer = await (await fetch(`/table/suggested/${job}`)).json();
    $("suggest-progress").value = answer.progress;
    if (answer.found) fill($("suggested"), answer.found, suggestion);
    if (answer.done) {
      $("suggest-progress").hidden = $("suggest-stop").hidden = true;
      if (!answer.found?.length) fill($("suggested"), [answer.says || words.none], line);
      job = null;
    } else await pause(250);
  }
}

function suggestion(found) {
  const item = document.createElement("li");
  const picture = document.createElement("div");
  picture.className = "drawing";
  picture.innerHTML = found.svg;
  const why = document.createElement("details");
  const title = document.createElement("summary");
  title.textContent = words.why;
  const says = document.createElement("p");
  says.textContent = found.why;
  why.append(title, says);
  const row = document.createElement("div");
  row.className = "row";
  row.append(
    button(words.take, () => {
      ask("/table/liked", { plan: found.plan, liked: true });
      keep(null, found.tree);
      $("suggestions").hidden = true;
    }, found.why),
    button(words.not, () => {
      ask("/table/liked", { plan: found.plan, liked: false });
      item.remove();
    }, found.why),
  );
  item.append(picture, why, row);
  return item;
}

// ---------------------------------------------------------------- beginning

function press(id, act) {
  $(id).addEventListener("click", () => {
    const on = $(id).getAttribute("aria-pressed") !== "true";
    $(id).setAttribute("aria-pressed", String(on));
    act?.(on);
  });
}

function look(wished) {
  view = wished;
  for (const key of document.querySelectorAll("[data-view]")) {
    key.setAttribute("aria-pressed", String(key.dataset.view === wished));
  }
  stage?.view(wished);
  requestAnimationFrame(() => marks());
}

async function step(path) {
  while (keeping) await pause(50);
  const { status, told } = await ask(`${piece}/${path}`);
  if (status === 200) take(told);
}

$("back").addEventListener("click", () => step("back"));
$("forth").addEventListener("click", () => step("forth"));
document.addEventListener("keydown", (event) => {
  if (!(event.ctrlKey || event.metaKey) || event.target.matches("input, textarea")) return;
  if (event.key === "z" && !event.shiftKey) step("back");
  else if (event.key === "y" || (event.key === "z" && event.shiftKey)) step("forth");
  else return;
  event.preventDefault();
});
for (const key of document.querySelectorAll("[data-view]")) key.addEventListener("click", () => look(key.dataset.view));
press("stretch");
press("numbers", () => marks());
press("ghost", () => stage && ghosts());
$("add").addEventListener("click", () => keep({ act: "add", role: $("add-role").value, plant: $("add-plant").value }));
for (const field of document.querySelectorAll("[data-whole]")) {
  field.addEventListener("change", () => keep({ act: "whole", [field.dataset.whole]: field.value }));
}
$("v-take").addEventListener("click", () => {
  const vessel = {};
  for (const key of ["shape", "width", "depth", "height"]) {
    const text = $(`v-${key}`).value.trim();
    if (text) vessel[key] = text;
  }
  keep({ act: "whole", vessel });
});
for (const key of document.querySelectorAll("[data-holder]")) {
  key.addEventListener("click", () => {
    const [x, y] = { left: [-1, 0], right: [1, 0], front: [0, -1], back: [0, 1] }[key.dataset.holder];
    keep({ act: "holder", x: now.holder.x_cm + x, y: now.holder.y_cm + y });
  });
}
$("suggest").addEventListener("click", suggest);
$("suggest-stop").addEventListener("click", () => job && ask(`/table/suggested/${job}/stop`));
$("save-picture").addEventListener("click", async () => {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(await stage.picture());
  link.download = `${now.name}.png`;
  link.click();
});
$("stage").addEventListener("keydown", keys);

show(now);
try {
  stage = createStage($("stage"), { quality: "auto", lookUrl: (key) => `/table/look/${key}` });
  stage.on("pick", select);
  stage.on("drag", onDrag);
  stage.on("drop", onDrop);
  $("stage").addEventListener("pointermove", (event) => event.buttons && !drag && requestAnimationFrame(() => marks()));
  $("stage").addEventListener("wheel", () => requestAnimationFrame(() => marks()), { passive: true });
  await stage.show(now.wire);
  look("front");
  ghosts();
  marks();
  document.body.dataset.ready = "yes";
  addEventListener("resize", () => requestAnimationFrame(() => marks()));
} catch (trouble) {
  document.body.dataset.ready = "flat";
  console.warn(trouble);
}

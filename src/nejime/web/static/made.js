// Look at the work: pictures are chosen, marked step by step, measured, and talked about.
//
// The marks of this page are the truth until the server has them; every mark is sent at once, and
// what could not be sent is kept in the browser and sent again. A step follows from the marks, so
// that a reload goes on where it was.

import { createMarking } from "./marking.js";
import { askPicture } from "./asking.js";
import { createAnswer } from "./made-answer.js";

const $ = (id) => document.getElementById(id);
const read = (id) => JSON.parse($(id).textContent);
const words = read("words");
const fill = (text, told) => text.replace(/\{(\w+)\}/g, (_, name) => told[name]);
const capital = (text) => text.slice(0, 1).toUpperCase() + text.slice(1);

let now = read("state");
let version = now.version;
const address = `/made/${now.id}`;
const drawer = `nejime${address}`;
let at = 0; // the view that is shown
let chosen = null; // a step that was asked for by hand
let dirty = false;
let sending = false;
let suggestion = null; // marks moved to the edge, not taken yet
let fromTyping = {}; // lengths as they were typed, not kept yet
const edge = now.rectangle ? "corners" : "rim";
const NARROW = matchMedia("(max-width: 60rem)");
const RIM_SHARE = 0.8; // of the picture's width, that the rim fills while it is marked
const PARTS = ["tip", "base", "mid"];
const ASKED = ["tip", "base"]; // of every stem; a middle is for those who want to mark it

const marking = createMarking($("stage"), {
  sheet: $("sheet"),
  loupe: $("loupe"),
  glass: $("loupe-sheet"),
  set: setMark,
  move: moveMark,
  pick: () => showTools(),
  erase: eraseMark,
  cut: showEdges,
});
const answer = createAnswer({ address, words, changed: drawOver, decided });

// ---------------------------------------------------------------- the marks

const view = () => now.views[at];
const stemIn = (one, id) => one.stems.find((stem) => stem.id === id);

function stemName(id) {
  return now.stems.find((stem) => stem.id === id)?.name ?? id;
}

/** The step that is next, or the one that was asked for. */
function step() {
  const one = view();
  if (chosen) return chosen;
  if (one.rim.length < now.needed) return { part: "rim" };
  for (const { id } of now.stems)
    for (const part of ASKED)
      if (!stemIn(one, id)?.[part] && !isHidden(`${part}/${id}`) && !isHidden(`tip/${id}`)) return { part, id };
  if (asksPins(one)) return { part: "pins", id: 0 };
  return { part: "done" };
}

/** Where feet are hidden, the pins say where they are: asked once, in the first picture. */
function asksPins(one) {
  const feet = now.stems.every(({ id }) => stemIn(one, id)?.base);
  return at === 0 && !now.tall && !feet && !one.pins && !isHidden("pins/0");
}

function setMark(point) {
  const { part, id } = step();
  if (part === "done") return;
  if (part === "rim") {
    if (now.rectangle && view().rim.length >= now.needed) return;
    view().rim.push(point);
    const count = view().rim.length;
    if (count === now.needed) chosen = null;
    if (!now.rectangle && count === 2) marking.closeUp(view().rim, RIM_SHARE);
    if (count === now.needed) marking.whole();
  } else if (part === "pins") {
    view().pins = point;
    chosen = null;
  } else {
    let stem = stemIn(view(), id);
    if (!stem) view().stems.push((stem = { id }));
    stem[part] = point;
    chosen = null;
  }
  changed();
}

function moveMark(key, point) {
  const [part, id] = key.split("/");
  if (part === "rim") view().rim[Number(id)] = point;
  else if (part === "pins") view().pins = point;
  else stemIn(view(), id)[part] = point;
  changed();
}

function eraseMark(key) {
  const [part, id] = key.split("/");
  if (part === "rim") view().rim.splice(Number(id), 1);
  else if (part === "pins") view().pins = null;
  else {
    const stem = stemIn(view(), id);
    delete stem[part];
    if (!PARTS.some((each) => stem[each])) view().stems = view().stems.filter((each) => each !== stem);
  }
  marking.pick(null);
  changed();
}

function marksOf(one) {
  const name = now.rectangle ? words.markCorner : words.markRim;
  const rim = one.rim.map((point, n) => ({ key: `rim/${n}`, at: point, label: now.rectangle ? String(n + 1) : "", small: true, wrong: n === one.rim_off, says: fill(name, { number: n + 1 }) }));
  const ends = one.stems.flatMap((stem) =>
    PARTS.filter((part) => stem[part]).map((part) => ({
      key: `${part}/${stem.id}`,
      at: stem[part],
      label: part === "tip" ? stemName(stem.id) : "",
      small: part === "base",
      says: `${stemName(stem.id)}: ${words[part]}`,
    })),
  );
  const pins = one.pins ? [{ key: "pins/0", at: one.pins, label: words.pins, says: words.pins }] : [];
  return [...rim, ...ends, ...pins];
}

/** What cannot be seen in a view; only this browser remembers it. */
function isHidden(key) {
  return hidden().includes(key);
}

function hidden() {
  try {
    return JSON.parse(localStorage.getItem(`${drawer}/hidden/${at}`) ?? "[]");
  } catch {
    return [];
  }
}

function hide(key) {
  store(`${drawer}/hidden/${at}`, [...new Set([...hidden(), key])]);
  chosen = null;
  show();
}

function store(key, told) {
  try {
    if (told === null) localStorage.removeItem(key);
    else localStorage.setItem(key, JSON.stringify(told));
  } catch {
    // a browser without storage: what is sent is kept all the same
  }
}

// ---------------------------------------------------------------- keeping

function toKeep() {
  const views = now.views.map((one) => ({ [edge]: one.rim, stems: one.stems, pins: one.pins ?? null }));
  const stems = {};
  for (const stem of now.stems) {
    stems[stem.id] = {};
    for (const key of ["cut_length_cm", "aim"]) if (stem[key] !== undefined) stems[stem.id][key] = stem[key];
    if (fromTyping[stem.id] !== undefined) stems[stem.id].cut_length_cm = fromTyping[stem.id];
  }
  return { base: version, views, stems };
}

function changed() {
  suggestion = null;
  dirty = true;
  store(drawer, toKeep());
  show();
  answer.wait();
  if (!sending) send();
}

async function ask(path, body, more = {}) {
  const sent = body instanceof Blob ? body : JSON.stringify(body ?? {});
  const answered = await fetch(`${address}/${path}`, { method: "POST", body: sent, ...more });
  if (answered.status >= 500) throw new Error(String(answered.status));
  return { status: answered.status, told: await answered.json() };
}

async function send() {
  sending = true;
  say(words.saving);
  while (dirty) {
    dirty = false;
    const typed = fromTyping;
    let answered;
    try {
      answered = await ask("keep", toKeep());
    } catch {
      dirty = true;
      say(words.lost);
      await new Promise((done) => setTimeout(done, 1500));
      continue;
    }
    if (answered.status === 200) {
      if (fromTyping === typed) fromTyping = {};
      take(answered.told, dirty);
    } else {
      sending = false;
      return answered.status === 409 ? conflict(answered.told.conflict) : wrong(answered.told.wrong);
    }
  }
  sending = false;
  store(drawer, null);
  say(words.kept);
  if (now.ready) answer.fetch();
}

const say = (text) => ($("kept").textContent = text);

/** What the server has; `newer`: marks of this page that it has not yet stay. */
function take(told, newer = false) {
  const mine = now;
  version = told.version;
  now = newer ? { ...told, views: told.views.map((one, n) => ({ ...one, rim: mine.views[n].rim, stems: mine.views[n].stems, pins: mine.views[n].pins })), stems: mine.stems } : told;
  at = Math.min(at, now.views.length, 1);
  $("trouble").hidden = true;
  show();
}

function wrong(faults) {
  const lengths = Object.keys(faults).filter((name) => name.startsWith("length."));
  for (const name of lengths) {
    const field = $(`length-${name.slice(7)}`);
    field.setAttribute("aria-invalid", "true");
    const says = $(`${field.id}-fault`);
    says.textContent = faults[name];
    says.hidden = false;
  }
  const others = Object.entries(faults).filter(([name]) => !lengths.includes(name));
  $("trouble").textContent = others.map(([, says]) => says).join(" ");
  $("trouble").hidden = others.length === 0;
  say(`${words.notKept} ${Object.values(faults)[0] ?? ""}`);
}

function conflict(theirs) {
  const mine = now;
  $("conflict").hidden = false;
  $("theirs").onclick = () => {
    $("conflict").hidden = true;
    store(drawer, null);
    take(theirs);
    say(words.kept);
    if (now.ready) answer.fetch();
  };
  $("mine").onclick = () => {
    $("conflict").hidden = true;
    version = theirs.version;
    now = { ...theirs, stems: mine.stems, views: theirs.views.map((one, n) => ({ ...one, rim: mine.views[n]?.rim ?? one.rim, stems: mine.views[n]?.stems ?? one.stems, pins: mine.views[n]?.pins ?? one.pins })) };
    changed();
  };
}

async function act(path, body) {
  while (sending) await new Promise((done) => setTimeout(done, 50));
  try {
    const { status, told } = await ask(path, body);
    if (status === 200) {
      take(told);
      answer.wait();
      if (now.ready) answer.fetch();
      return true;
    }
    wrong(told.wrong ?? {});
  } catch {
    say(words.lost);
  }
  return false;
}

// ---------------------------------------------------------------- pictures

async function choosePicture(file) {
  if (!file) return;
  $("choose-status").textContent = words.reading;
  say(words.reading);
  const first = !view() || !marksOf(view()).length;
  const well = await act(`picture/${at}`, file);
  $("choose-status").textContent = "";
  if (!well) return $("trouble").scrollIntoView({ block: "nearest" });
  say(words.kept);
  if (first) startCut();
  $("marker").scrollIntoView({ block: NARROW.matches ? "start" : "nearest" });
  $("stage").focus({ preventScroll: true });
}

for (const id of ["take", "file", "other"]) {
  $(id).addEventListener("change", () => {
    choosePicture($(id).files[0]);
    $(id).value = "";
  });
}
for (const place of [$("chooser"), $("stage")]) {
  place.addEventListener("dragover", (event) => {
    event.preventDefault();
    place.classList.add("is-over");
  });
  place.addEventListener("dragleave", () => place.classList.remove("is-over"));
  place.addEventListener("drop", (event) => {
    event.preventDefault();
    place.classList.remove("is-over");
    choosePicture(event.dataTransfer.files[0]);
  });
}

function startCut() {
  marking.startCut();
  show();
}

function showEdges(cut) {
  for (const [name, share] of Object.entries(cut)) $(`crop-${name}`).value = Math.round(100 * share);
}

for (const field of document.querySelectorAll("[data-edge]")) {
  field.addEventListener("input", () => marking.setCut(field.dataset.edge, field.value / 100));
}
$("crop-do").addEventListener("click", async () => {
  const box = marking.cutBox();
  marking.endCut();
  await act(`picture/${at}/crop`, box);
  begin();
});
$("crop-not").addEventListener("click", () => {
  marking.endCut();
  begin();
});

/** The picture is ready: on a narrow screen what is asked goes to the top of the window. */
function begin() {
  show();
  $("ask").scrollIntoView({ block: NARROW.matches ? "start" : "nearest" });
  $("stage").focus({ preventScroll: true });
}
$("crop-turn").addEventListener("click", async () => {
  if (await act(`picture/${at}/turn`)) startCut();
});
$("crop").addEventListener("click", startCut);
$("turn").addEventListener("click", () => act(`picture/${at}/turn`));
$("drop").addEventListener("click", async () => {
  const was = at;
  if (await act(`picture/${at}/drop`)) look(Math.min(was, now.views.length));
});
$("anew").addEventListener("click", () => {
  view().rim = [];
  view().stems = [];
  view().pins = null;
  store(`${drawer}/hidden/${at}`, null);
  chosen = null;
  changed();
});

// ---------------------------------------------------------------- showing

function look(number) {
  at = number;
  chosen = null;
  suggestion = null;
  marking.picked = null;
  show();
}

function show() {
  const one = view();
  for (const key of document.querySelectorAll("[data-at]")) {
    key.setAttribute("aria-pressed", String(Number(key.dataset.at) === at));
    key.disabled = Number(key.dataset.at) > now.views.length;
  }
  $("chooser").hidden = Boolean(one?.picture);
  $("marker").hidden = !one?.picture;
  if (!one?.picture) showChooser(one);
  else showMarks(one);
  showLengths();
  showKeeping();
  $("side-picture").hidden = now.views.length !== 1 || at !== 0 || step().part !== "done";
  $("back").disabled = !now.can_undo;
  $("forth").hidden = !now.can_redo;
}

function showChooser(one) {
  $("choose-title").textContent = words.choose[at];
  $("choose-says").textContent = words.chooseSays[at];
  $("choose-gone").hidden = !one;
}

function showMarks(one) {
  marking.show({ href: one.picture, box: one.box, width: one.width, height: one.height });
  const cutting = Boolean(marking.cutting);
  $("cropping").hidden = !cutting;
  $("marking-tools").hidden = cutting;
  $("ask").hidden = cutting;
  drawOver();
  if (cutting) return;
  showAsk(one);
  showSteps(one);
  showTools();
  list($("rim-says"), one.rim_says);
  list($("picture-says"), one.remarks);
  $("drop").hidden = at === 0 && now.views.length > 1;
}

function list(place, texts) {
  place.replaceChildren(
    ...texts.map((text) => {
      const item = document.createElement("li");
      item.textContent = text;
      return item;
    }),
  );
}

/** Marks, the rim fitted to them, and what was measured or planned, over the picture. */
function drawOver() {
  const one = view();
  if (!one?.picture) return;
  if (marking.cutting) return marking.set([], []);
  const lines = [];
  if (one.outline.length) lines.push({ points: one.outline, kind: "rim", closed: one.outline.length > 2 });
  if (suggestion) lines.push({ points: suggestion, kind: "snap", closed: true });
  lines.push(...answer.lines(at));
  marking.set(marksOf(one), lines);
}

function showAsk(one) {
  const { part, id } = step();
  marking.waits = part === "done" ? null : part === "rim" ? "rim/" : `${part}/${id}`;
  const told = { number: one.rim.length + 1, needed: now.needed, stem: id ? stemName(id) : "" };
  const round = [words.askRimLeft, words.askRimRight][one.rim.length] ?? (one.rim.length < now.needed ? words.askRim : words.askRimMore);
  const rim = now.rectangle ? words.askCorner[at] : round;
  const text = { rim, tip: words.askTip, base: now.tall ? words.askMouth : words.askBase, mid: words.askMid, pins: words.askPins, done: words.askDone }[part];
  const says = fill(text, told);
  if ($("ask-says").textContent !== says) $("ask-says").textContent = says;
  const first = now.rectangle && at === 1 && part === "rim" ? now.views[0] : null;
  askPicture($("ask-picture"), { first, part, number: one.rim.length, rectangle: now.rectangle, stem: now.stems.findIndex((stem) => stem.id === id) });
  const leave = $("leave-out");
  leave.hidden = !(part === "pins" || part === "base" || part === "mid" || part === "tip" || (part === "rim" && chosen));
  $("to-answer").hidden = part !== "done";
  leave.textContent = part === "tip" || part === "base" || part === "pins" ? words.hiddenTip : words.leaveOut;
}

$("leave-out").addEventListener("click", () => {
  const { part, id } = step();
  if (part === "tip" || part === "base" || part === "pins") return hide(`${part}/${id}`);
  chosen = null;
  show();
});

function showSteps(one) {
  const rim = { part: "rim", says: `${now.rectangle ? words.cornerStep : words.rimStep}: ${fill(words.ofNeeded, { count: one.rim.length, needed: now.needed })}`, full: one.rim.length >= now.needed };
  const keys = (parts) => now.stems.flatMap(({ id, name }) => parts.map((part) => ({ part, id, says: `${capital(name)}: ${words[part]}`, full: Boolean(stemIn(one, id)?.[part]) })));
  $("steps").replaceChildren(...[rim, ...keys(ASKED)].map(stepKey));
  const more = keys(["mid"]);
  $("more-steps").replaceChildren(...more.map(stepKey));
  const another = $("another");
  const ids = now.more.map(({ id }) => id).join();
  if (another.dataset.ids !== ids) {
    another.replaceChildren(...now.more.map(({ id, name }) => new Option(name, id)));
    another.dataset.ids = ids;
  }
}

function stepKey({ part, id, says, full }) {
  const key = document.createElement("button");
  const is = step();
  key.type = "button";
  key.textContent = full ? `${says} ✓` : says;
  key.setAttribute("aria-pressed", String(is.part === part && (part === "rim" || is.id === id)));
  key.addEventListener("click", () => {
    const mark = part === "rim" ? null : stemIn(view(), id)?.[part];
    chosen = mark ? null : { part, id };
    marking.pick(mark ? `${part}/${id}` : null);
    show();
    $("stage").focus({ preventScroll: true });
  });
  return key;
}

function showTools() {
  $("remove").hidden = !marking.picked;
  const mark = marking.picked && marksOf(view()).find(({ key }) => key === marking.picked);
  if (mark) say(capital(mark.says));
  $("snap").hidden = now.rectangle || !view() || view().rim.length < 6;
}

$("remove").addEventListener("click", () => marking.picked && eraseMark(marking.picked));
$("larger").addEventListener("click", () => marking.zoom(1.6));
$("smaller").addEventListener("click", () => marking.zoom(1 / 1.6));
$("fit").addEventListener("click", () => marking.whole());
$("back").addEventListener("click", () => act("back"));
$("forth").addEventListener("click", () => act("forth"));
$("to-side").addEventListener("click", () => {
  look(1);
  $("chooser").scrollIntoView({ block: "nearest" });
});
for (const key of document.querySelectorAll("[data-at]")) key.addEventListener("click", () => look(Number(key.dataset.at)));
$("add").addEventListener("click", () => {
  const id = $("another").value;
  now.stems.push({ ...now.more.find((each) => each.id === id), length: "", planned: "" });
  now.more = now.more.filter((each) => each.id !== id);
  chosen = null;
  changed();
});

// ---------------------------------------------------------------- the edge near the marks

$("snap").addEventListener("click", async () => {
  while (sending) await new Promise((done) => setTimeout(done, 50));
  const { status, told } = await ask(`picture/${at}/snap`);
  if (status !== 200) return wrong(told.wrong ?? {});
  suggestion = told.rim;
  $("snapped").hidden = false;
  $("snap-says").textContent = told.says;
  $("snap-take").hidden = !told.rim;
  drawOver();
  $("snapped").scrollIntoView({ block: "end" }); // with the picture above it
});
$("snap-take").addEventListener("click", () => {
  view().rim = suggestion;
  $("snapped").hidden = true;
  changed();
});
$("snap-not").addEventListener("click", () => {
  suggestion = null;
  $("snapped").hidden = true;
  drawOver();
});

// ---------------------------------------------------------------- lengths, mirror answers, keeping

function showLengths() {
  const place = $("length-fields");
  const ids = now.stems.map(({ id }) => id).join();
  if (place.dataset.ids !== ids) {
    place.replaceChildren(...now.stems.map(lengthField));
    place.dataset.ids = ids;
  }
  for (const stem of now.stems) {
    const field = $(`length-${stem.id}`);
    if (document.activeElement !== field && field.getAttribute("aria-invalid") !== "true") field.value = stem.length;
  }
  $("as-planned").hidden = !now.stems.some(({ planned_cm: planned }) => planned);
}

function lengthField({ id, name, planned }) {
  const place = document.createElement("div");
  place.className = "field";
  const label = document.createElement("label");
  label.textContent = capital(name);
  const field = document.createElement("input");
  field.id = label.htmlFor = `length-${id}`;
  field.inputMode = "decimal";
  field.autocomplete = "off";
  const fault = document.createElement("p");
  fault.className = "fault";
  fault.id = `${field.id}-fault`;
  fault.hidden = true;
  field.setAttribute("aria-describedby", fault.id);
  field.addEventListener("change", () => {
    field.removeAttribute("aria-invalid");
    fault.hidden = true;
    fromTyping = { ...fromTyping, [id]: field.value.trim() };
    changed();
  });
  place.append(label, field, fault);
  if (planned) {
    const help = document.createElement("p");
    help.className = "help";
    help.textContent = fill(words.plannedLength, { length: planned });
    place.append(help);
  }
  return place;
}

$("as-planned").addEventListener("click", () => {
  for (const stem of now.stems) if (stem.planned_cm) stem.cut_length_cm = stem.planned_cm;
  changed();
});

/** Which of two mirror answers is right, as she says. */
function decided(id, aim) {
  now.stems.find((stem) => stem.id === id).aim = aim;
  changed();
}

function showKeeping() {
  const pictures = now.views.filter((one) => one.picture);
  const kept = pictures.length > 0 && pictures.every((one) => one.kept);
  $("keep-picture").hidden = !pictures.length;
  $("keep-picture").textContent = kept ? words.wipePicture : words.keepPicture;
  $("keep-says").textContent = kept ? words.keptSays : words.keepSays;
  $("keep-picture").dataset.kept = kept ? "yes" : "";
}

$("keep-picture").addEventListener("click", () => act("pictures", { kept: !$("keep-picture").dataset.kept }));

// ---------------------------------------------------------------- beginning

function unsent() {
  try {
    return JSON.parse(localStorage.getItem(drawer));
  } catch {
    return null;
  }
}

addEventListener("beforeunload", (event) => {
  if (dirty || sending) event.preventDefault();
});

const left = unsent();
if (left && Array.isArray(left.views) && left.views.length === now.views.length) {
  now.views = now.views.map((one, n) => ({ ...one, rim: left.views[n][edge], stems: left.views[n].stems, pins: left.views[n].pins }));
  version = left.base;
  changed();
} else {
  const open = now.views.findIndex((_, n) => {
    at = n;
    return now.views[n].picture && step().part !== "done";
  });
  at = Math.max(0, open);
  show();
  if (now.ready) answer.fetch();
}
document.body.dataset.ready = "yes";

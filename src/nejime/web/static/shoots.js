// The side shoots of a branch, pressed on a line: beside their field the branch lies to scale, its
// cut end on the left. The field is what counts and what is kept; the picture only reads and writes
// it, so the two always say the same. Nothing is drawn that the field does not say.

const SVG = "http://www.w3.org/2000/svg";
const MOST = 12;
const PAD = 16; // px at both ends of the line
const NEAR = 12; // px: a finger hits a shoot from so far
const FOOT = 9; // px: pressed lower than this, it is the line that is meant
const BELOW = 46; // px for the marks and their numbers
const APART = 34; // px between numbers
const TALL = 0.34; // of the branch's length is shown above it, where no shoot is longer
const CM = { cm: 1, mm: 0.1, m: 100, in: 2.54, inch: 2.54, inches: 2.54, '"': 2.54, "″": 2.54, "”": 2.54, ft: 30.48, foot: 30.48, feet: 30.48, "'": 30.48 };
const PARTS = { "¼": 0.25, "½": 0.5, "¾": 0.75, "⅛": 0.125, "⅜": 0.375, "⅝": 0.625, "⅞": 0.875 };
const TYPED = /^(\d+(?:[.,]\d+)?)?(?:[ -]?(\d{1,3})\s*\/\s*(\d{1,3})|([¼½¾⅛⅜⅝⅞]))?\s*([a-z"'″”]*)\.?$/;
const AT = /\s*(?<![a-z])at(?![a-z])\s*/i;
const STEPS = { cm: [1, 5, 10, 20, 50, 100], in: [1, 2, 6, 12, 24, 48] };
const STEP = { cm: 1, in: 0.5 }; // as exactly as a finger and a tape measure are

// A typed length in the reader's unit; NaN where it is none.
function measured(text, unit) {
  const found = TYPED.exec(text.trim().toLowerCase());
  if (!found || (!found[1] && !found[2] && !found[4])) return NaN;
  const per = CM[found[5] || unit];
  const part = found[4] ? PARTS[found[4]] : found[2] ? Number(found[2]) / Number(found[3]) : 0;
  return ((Number((found[1] || "0").replace(",", ".")) + part) * per) / CM[unit];
}

// The shoots that a text says, each with its own words; null where it cannot be read.
function read(text, unit) {
  const rough = text.trim().split(/[;\n]|,(?=\s)|,$/);
  const pieces = rough.flatMap((each) => (each.split(AT).length > 2 ? each.split(",") : [each]));
  const said = pieces.map((each) => each.trim()).filter((each) => each);
  const found = said.map((words) => {
    const halves = words.split(AT);
    const [length, at] = halves.map((each) => measured(each, unit));
    return { length, at, words: halves.length === 2 ? words : "" };
  });
  const fine = found.every((each) => each.words && each.length > 0 && each.at >= 0);
  return fine && found.length <= MOST ? found : null;
}

function written(shoots) {
  return [...shoots].sort((one, other) => one.at - other.at).map((each) => each.words).join(", ");
}

const plain = (number) => String(Math.round(number * 100) / 100);

function make(name, told, text) {
  const element = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(told)) element.setAttribute(key, value);
  if (text !== undefined) element.textContent = text;
  return element;
}

class Picture {
  constructor(host, words) {
    this.host = host;
    this.words = words;
    this.unit = words.unit;
    this.step = STEP[this.unit];
    this.field = document.getElementById(host.dataset.shoots);
    this.measure = document.getElementById(host.dataset.length);
    this.cursor = 0;
    this.begun = null; // where a shoot leaves the line whose end is not said yet
    this.end = 0; // how long it is while the pointer or the arrows look for it
    this.sheet = make("svg", { class: "shoots-sheet", "aria-hidden": "true" });
    this.stage = document.createElement("div");
    this.stage.className = "shoots-stage";
    this.stage.tabIndex = 0;
    this.stage.setAttribute("role", "application");
    this.stage.append(this.sheet);
    this.status = document.createElement("p");
    this.status.className = "help";
    this.status.setAttribute("role", "status");
    this.status.id = `${host.dataset.shoots}-picture`;
    this.stage.setAttribute("aria-label", words.label);
    this.stage.setAttribute("aria-describedby", this.status.id);
    host.append(this.stage, this.status);
    this.field.addEventListener("input", () => this.reread());
    this.measure.addEventListener("input", () => this.reread());
    this.stage.addEventListener("click", (event) => this.pressed(event));
    this.stage.addEventListener("pointermove", (event) => this.moved(event));
    this.stage.addEventListener("keydown", (event) => this.key(event));
    new ResizeObserver(() => this.draw()).observe(host);
    this.reread();
  }

  // What the fields say now.
  reread() {
    const length = measured(this.measure.value, this.unit);
    const shoots = read(this.field.value, this.unit);
    this.begun = null;
    this.length = length > 0 ? length : 0;
    this.last = Math.max(0, Math.ceil(this.length / this.step - 1) * this.step);
    this.cursor = Math.min(this.cursor, this.last);
    this.shoots = shoots && shoots.every((each) => each.at < this.length) ? shoots : null;
    this.stage.hidden = !this.length || !this.shoots;
    this.say(!this.length ? "noLength" : !this.shoots ? "unread" : "how");
    this.draw();
  }

  say(name, told = {}) {
    let text = this.words[name];
    for (const [key, value] of Object.entries(told)) text = text.replace(`{${key}}`, `${plain(value)} ${this.unit}`);
    this.status.textContent = text;
  }

  write(shoots) {
    this.field.value = written(shoots);
    const said = this.status.textContent;
    this.field.dispatchEvent(new Event("input", { bubbles: true }));
    this.status.textContent = said;
  }

  begin(at) {
    if (this.shoots.length >= MOST) return this.say("full");
    this.begun = this.cursor = Math.min(Math.max(at, 0), this.last);
    this.end = 0;
    this.say("starts", { at: this.begun });
    return this.draw();
  }

  finish(length) {
    const at = this.begun;
    this.begun = null;
    if (length < this.step) {
      this.say("how");
      return this.draw();
    }
    this.say("set", { length, at });
    return this.write([...this.shoots, { at, length, words: `${plain(length)} at ${plain(at)}` }]);
  }

  remove(shoot) {
    this.say("gone", { at: shoot.at });
    this.write(this.shoots.filter((each) => each !== shoot));
  }

  // Where on the branch, and how far from it, a pointer is.
  place(event) {
    const box = this.sheet.getBoundingClientRect();
    const [x, y] = [event.clientX - box.left, this.foot - (event.clientY - box.top)];
    const round = (px) => Math.round(px / this.scale / this.step) * this.step;
    return { x, y, at: round(x - PAD), far: Math.abs(round(y)) };
  }

  pressed(event) {
    const { x, y, at, far } = this.place(event);
    if (this.begun !== null) return this.finish(far);
    const hit = this.shoots
      .map((each) => ({ each, off: Math.abs(this.across(each.at) - x) }))
      .filter(({ each, off }) => off <= NEAR && y > FOOT && y < each.length * this.scale + NEAR)
      .sort((one, other) => one.off - other.off)[0];
    return hit ? this.remove(hit.each) : this.begin(at);
  }

  moved(event) {
    if (this.begun === null) return;
    this.end = this.place(event).far;
    this.draw();
  }

  key(event) {
    const by = this.step * (event.shiftKey ? 5 : 1);
    const along = { ArrowLeft: -by, ArrowRight: by }[event.key];
    const up = { ArrowUp: by, ArrowDown: -by }[event.key];
    if (along !== undefined && this.begun === null) this.go(this.cursor + along);
    else if (along !== undefined) this.begin(this.begun + along);
    else if (up !== undefined && this.begun !== null) this.grow(up);
    else if (event.key === "Enter" || event.key === " ") this.enter();
    else if (event.key === "Escape" && this.begun !== null) this.finish(0);
    else if (event.key === "Delete" || event.key === "Backspace") this.removeHere();
    else return;
    event.preventDefault();
  }

  go(at) {
    this.cursor = Math.min(Math.max(at, 0), this.last);
    const here = this.here();
    if (here) this.say("set", here);
    else this.say("at", { at: this.cursor });
    this.draw();
  }

  grow(by) {
    this.end = Math.max(0, this.end + by);
    this.say("set", { length: this.end, at: this.begun });
    this.draw();
  }

  enter() {
    if (this.begun === null) this.begin(this.cursor);
    else this.finish(this.end);
  }

  here() {
    return this.shoots.find((each) => Math.abs(each.at - this.cursor) < this.step);
  }

  removeHere() {
    const shoot = this.begun === null && this.here();
    if (shoot) this.remove(shoot);
  }

  across(at) {
    return PAD + at * this.scale;
  }

  draw() {
    const wide = this.host.clientWidth;
    if (!wide || this.stage.hidden) return;
    this.scale = (wide - 2 * PAD) / this.length;
    const longest = Math.max(this.length * TALL, this.end, ...this.shoots.map((each) => each.length));
    this.foot = Math.ceil(longest * this.scale) + 26;
    const high = this.foot + BELOW;
    this.sheet.setAttribute("viewBox", `0 0 ${wide} ${high}`);
    this.sheet.setAttribute("height", high);
    this.sheet.replaceChildren(...this.marks(wide), this.branch(), ...this.all());
  }

  // The marks of a ruler: along the branch with numbers, and as far lines above it.
  marks(wide) {
    const step = STEPS[this.unit].find((each) => each * this.scale >= APART) || STEPS[this.unit].at(-1);
    const found = [];
    for (let far = step; far * this.scale < this.foot - 12; far += step) {
      const y = this.foot - far * this.scale;
      found.push(make("line", { class: "shoots-far", x1: PAD, x2: wide - PAD, y1: y, y2: y }));
    }
    for (let at = 0; at <= this.length + 1e-6; at += step) {
      const x = this.across(at);
      found.push(make("line", { class: "shoots-mark", x1: x, x2: x, y1: this.foot + 5, y2: this.foot + 11 }));
      const number = at ? { class: "shoots-number", x } : { class: "shoots-cut", x: 3 };
      found.push(make("text", { ...number, y: this.foot + 24 }, at ? plain(at) : `0 ${this.unit}`));
    }
    const cut = make("text", { class: "shoots-cut", x: 3, y: this.foot + 39 }, this.words.cut);
    return [...found, cut];
  }

  branch() {
    const [from, to, y] = [this.across(0), this.across(this.length), this.foot];
    return make("polygon", { class: "shoots-branch", points: `${from},${y - 4} ${to},${y - 1} ${to},${y + 1} ${from - 4},${y + 4}` });
  }

  all() {
    const found = this.shoots.flatMap((each) => this.shoot(each, "shoots-one"));
    if (this.begun !== null) found.push(...this.shoot({ at: this.begun, length: this.end }, "shoots-one shoots-begun"));
    const x = this.across(this.cursor);
    found.push(make("line", { class: "shoots-cursor", x1: x, x2: x, y1: this.foot - 14, y2: this.foot + 8 }));
    return found;
  }

  shoot({ at, length }, kind) {
    const [x, top] = [this.across(at), this.foot - length * this.scale];
    const parts = [
      make("line", { class: kind, x1: x, x2: x, y1: this.foot, y2: top }),
      make("circle", { class: `${kind} shoots-end`, cx: x, cy: top, r: 4.5 }),
    ];
    if (length) parts.push(make("text", { class: "shoots-number", x, y: top - 9 }, plain(length)));
    return parts;
  }
}

const words = document.getElementById("shoots-words")?.dataset;
if (words) for (const host of document.querySelectorAll(".shoots-picture")) new Picture(host, words);

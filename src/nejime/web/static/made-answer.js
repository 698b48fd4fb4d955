// What comes of the marks: words, numbers, lines over the picture, and the piece in space.

const $ = (id) => document.getElementById(id);
const LATER_MS = 120; // marks that follow one another at once are asked about once

export function createAnswer(options) {
  return new Answer(options);
}

class Answer {
  constructor({ address, words, changed, decided }) {
    Object.assign(this, { address, words, changed, decided });
    this.told = null;
    this.turn = 0;
    for (const id of ["show-plan", "show-lines"]) {
      $(id).addEventListener("click", () => {
        const on = $(id).getAttribute("aria-pressed") !== "true";
        $(id).setAttribute("aria-pressed", String(on));
        this.changed();
      });
    }
    for (const key of document.querySelectorAll("[data-space]")) key.addEventListener("click", () => this.look(key.dataset.space));
  }

  /** Marks have changed: what is said does not hold any more. */
  wait() {
    this.turn += 1;
    this.told = null;
    $("answered").classList.add("is-old");
  }

  fetch() {
    const turn = (this.turn += 1);
    $("answer-status").textContent = this.words.measuring;
    $("answer-status").hidden = false;
    setTimeout(() => turn === this.turn && this.ask(turn), LATER_MS);
  }

  async ask(turn) {
    let told;
    let status;
    try {
      const answered = await fetch(`${this.address}/answer`);
      status = answered.status;
      told = await answered.json();
    } catch {
      $("answer-status").textContent = this.words.lost;
      setTimeout(() => turn === this.turn && this.ask(turn), 1500);
      return;
    }
    if (turn !== this.turn) return;
    if (status === 200) this.show(told);
    else {
      $("answer-status").textContent = Object.values(told.wrong ?? {}).join(" ") || this.words.notYet;
      $("answered").hidden = true;
      $("numbers").hidden = true;
    }
  }

  show(told) {
    this.told = told;
    $("answer-status").hidden = true;
    $("answered").hidden = false;
    $("answered").classList.remove("is-old");
    for (const key of ["good", "change", "unsure", "remarks"]) list($(key), told[key]);
    $("good").previousElementSibling.hidden = !told.good.length;
    $("no-change").hidden = !told.planned || told.change.length > 0 || told.unsure.length > 0;
    $("change").previousElementSibling.hidden = !told.change.length && $("no-change").hidden;
    $("unsure-part").hidden = !told.unsure.length;
    $("questions").replaceChildren(...told.questions.map((each) => this.question(each)));
    $("numbers").hidden = false;
    $("rows").replaceChildren(...told.rows.map((each) => row(each, this.words.planned)));
    $("clockwise").hidden = !told.rows.some((each) => each.direction);
    $("number-table").classList.toggle("in-space", told.rows.some((each) => each.direction || each.length));
    $("outlines").hidden = !told.outline.length;
    $("outline-rows").replaceChildren(...told.outline.map(described));
    $("outline-says").textContent = told.outline_says;
    $("show-plan").hidden = !Object.values(told.views).some(({ ghost }) => ghost.length);
    $("show-lines").hidden = !Object.values(told.views).some(({ lines }) => lines.length);
    $("over").hidden = $("show-plan").hidden && $("show-lines").hidden;
    $("to-piece").hidden = !told.wire;
    $("remake").hidden = !told.wire;
    this.changed();
    this.stand(told);
  }

  question({ id, says, options, settled }) {
    const place = document.createElement("div");
    place.className = settled ? "question settled" : "question";
    place.setAttribute("role", "group");
    const text = document.createElement("p");
    text.id = `question-${id}`;
    text.textContent = says;
    place.setAttribute("aria-labelledby", text.id);
    const keys = document.createElement("div");
    keys.className = "row";
    for (const option of options) {
      const key = document.createElement("button");
      key.type = "button";
      key.textContent = option.says;
      key.addEventListener("click", () => this.decided(id, option.aim));
      keys.append(key);
    }
    place.append(text, keys);
    return place;
  }

  /** Lines over the picture of a view. */
  lines(at) {
    const view = this.told?.views[at];
    if (!view) return [];
    const on = (id) => $(id).getAttribute("aria-pressed") === "true";
    const plan = on("show-plan") ? view.ghost.map(({ points, name }) => ({ points, kind: "plan", label: name })) : [];
    const lines = on("show-lines") ? view.lines.map(({ points }) => ({ points, kind: "line" })) : [];
    return [...plan, ...lines];
  }

  // In space

  async stand(told) {
    $("space").hidden = !told.wire;
    $("space-plan").hidden = !told.dashed.length;
    $("drawn-as").textContent = told.drawn_as;
    if (!told.wire) return;
    try {
      if (!this.stage) {
        const { createStage } = await import("./stage.js");
        this.stage ??= createStage($("space-stage"), { lookUrl: (key) => `/table/look/${key}`, still: true });
        this.stage.view("front");
      }
      await this.stage.show(told.wire);
      this.stage.ghost(told.dashed);
    } catch (trouble) {
      console.warn(trouble);
      $("no-space").hidden = false;
      $("space-stage").hidden = true;
    }
  }

  look(name) {
    for (const key of document.querySelectorAll("[data-space]")) key.setAttribute("aria-pressed", String(key.dataset.space === name));
    this.stage?.view(name);
  }
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

/** One stem: what it is called, and each number with what was meant under it. */
function row({ name, status, lean, direction, length, aim_lean, aim_direction, aim_length, note }, planned) {
  const line = document.createElement("tr");
  const head = made("th", name.slice(0, 1).toUpperCase() + name.slice(1));
  head.scope = "row";
  line.append(head);
  if (!lean && !direction && !length) {
    const cell = made("td", note || status);
    cell.colSpan = 3;
    line.append(cell);
    return line;
  }
  for (const [is, aim, kind] of [[lean, aim_lean, ""], [direction, aim_direction, "only-space"], [length, aim_length, "only-space"]]) {
    const cell = made("td", is, kind);
    if (aim) cell.append(made("span", planned.replace("{value}", aim), "aimed"));
    line.append(cell);
  }
  if (note) head.append(made("span", note, "aimed"));
  return line;
}

function described({ what, yours, plans }) {
  const line = document.createElement("tr");
  const head = made("th", what);
  head.scope = "row";
  line.append(head, made("td", yours), made("td", plans));
  return line;
}

function made(name, text, kind) {
  const one = document.createElement(name);
  one.textContent = text;
  if (kind) one.className = kind;
  return one;
}

// One board beside the iron: tick, take back, see what is next.
import { keepInStep, remember, tell } from "/static/link.js";
import { placeState } from "/static/overlay.js";
import { photoOf } from "/static/photo.js";
import { enqueue } from "/static/queue.js";

const SET = document.body.dataset.set;
const BOARD = document.body.dataset.board;
const WORDS = { out: "out", in: "in", checked: "checked", measured: "measured", note: "note" };
const MINE = `recap.mine.${SET}\n${BOARD}`;
const cards = [...document.querySelectorAll(".card")];
const value = document.getElementById("value");
const show = document.getElementById("show");
const undoButton = document.getElementById("undo");
const nextButton = document.getElementById("next");
let state = { seq: 0, places: {}, photos: {} };
let turn = () => {};
let next = null;

const of = (card) => placeState(state, SET, BOARD, card.dataset.ref);

function record(kind, ref, data = {}) {
  let event;
  try {
    event = enqueue(kind, SET, BOARD, ref, data);
  } catch {
    say("This device can't store anything: nothing was recorded.");
    return null;
  }
  if (kind !== "undone" && kind !== "pinned") setMine([...mine(), { id: event.id, kind, ref }].slice(-60));
  draw();
  tell("asking");
  turn();
  return event;
}

function tick(card, stage) {
  const ref = card.dataset.ref;
  const there = of(card).stages;
  if (!there[stage].will) {
    const event = record(stage, ref);
    if (event) say(`${ref} ${WORDS[stage]}, waiting to be recorded`);
    return;
  }
  // What was checked is checked no longer once the part is out again.
  const ids = stage === "in" ? [...there.in.ids, ...there.checked.ids] : there[stage].ids;
  takeBack(ref, ids, WORDS[stage]);
}

function takeBack(ref, ids, what) {
  if (record("undone", ref, { undoes: ids })) {
    setMine(mine().filter((entry) => !ids.includes(entry.id)));
    say(`${ref} ${what} taken back`);
    draw();
  }
}

function mine() {
  return JSON.parse(localStorage.getItem(MINE) || "[]");
}

function setMine(list) {
  try { localStorage.setItem(MINE, JSON.stringify(list)); } catch { /* full: taking back is then by tapping the tick */ }
}

function draw() {
  const states = new Map(cards.map((card) => [card, of(card)]));
  const job = cards.filter((card) => card.dataset.job === "yes");
  next = job.find((card) => !states.get(card).stages.in.will && matches(card)) || job.find((card) => !states.get(card).stages.in.will) || null;
  let shown = 0;
  for (const card of cards) {
    drawCard(card, states.get(card));
    card.hidden = !visible(card, states.get(card));
    shown += card.hidden ? 0 : 1;
  }
  document.getElementById("empty").hidden = shown > 0;
  drawProgress(job, states);
  drawDock(job, states);
  photo.draw(state.photos[BOARD], cards.map((card) => ({ ref: card.dataset.ref, value: card.dataset.value, ...states.get(card) })), next?.dataset.ref);
}

function drawCard(card, there) {
  for (const button of card.querySelectorAll("[data-stage]")) {
    const stage = there.stages[button.dataset.stage];
    const pressed = { open: "false", done: "true", waiting: "mixed" }[stage.state];
    if (button.getAttribute("aria-pressed") !== pressed) button.setAttribute("aria-pressed", pressed);
    const small = { open: "", done: clock(stage.at), waiting: stage.will ? "waiting" : "taking back" }[stage.state];
    const label = button.querySelector("small");
    if (label.textContent !== small) label.textContent = small;
  }
  card.classList.toggle("done", there.stages.in.state === "done" && there.stages.checked.state === "done");
  card.classList.toggle("next", card === next);
  card.querySelector(".nextmark").hidden = card !== next;
  if (card === next) card.setAttribute("aria-current", "step"); else card.removeAttribute("aria-current");
  card.querySelector(".where").hidden = !there.pin || !state.photos[BOARD];
  const told = card.querySelector(".told");
  const text = there.told.map((line) => line.text).join("\n");
  if (told.dataset.text !== text) {
    told.dataset.text = text;
    told.hidden = there.told.length === 0;
    told.replaceChildren(...there.told.map((line) => Object.assign(document.createElement("li"), { textContent: line.text })));
  }
}

function matches(card) {
  return !value.value || card.dataset.value === value.value;
}

function visible(card, there) {
  if (!matches(card)) return false;
  if (show.value === "all") return true;
  if (card.dataset.job !== "yes") return false;
  // A position just ticked stays until the record has it, so that the eye can follow.
  if (show.value === "open") return there.stages.in.state !== "done";
  if (show.value === "unchecked") return there.stages.in.will && there.stages.checked.state !== "done";
  return true;
}

function drawProgress(job, states) {
  const count = (stage) => job.filter((card) => states.get(card).stages[stage].state === "done").length;
  const bar = document.querySelector(".top .bar");
  bar.querySelector("progress").value = count("in");
  bar.querySelector("progress").max = job.length || 1;
  bar.querySelector(".count").textContent = `${count("in")} of ${job.length} in, ${count("checked")} checked`;
}

function drawDock(job, states) {
  const last = lastMine(states);
  undoButton.disabled = !last;
  undoButton.textContent = last ? `Undo ${last.ref} ${WORDS[last.kind]}` : "Nothing to undo";
  const unchecked = job.find((card) => states.get(card).stages.checked.state === "open");
  nextButton.disabled = !next && !unchecked;
  nextButton.textContent = next ? `Next: ${next.dataset.ref}` : unchecked ? `Check ${unchecked.dataset.ref}` : "Board done";
  nextButton.dataset.card = (next || unchecked)?.id || "";
}

function lastMine(states) {
  // Only what still stands can be taken back: it may have been taken back on another phone meanwhile.
  const standing = new Set();
  for (const there of states.values()) {
    for (const stage of Object.values(there.stages)) stage.ids.forEach((id) => standing.add(id));
    there.told.forEach((line) => standing.add(line.id));
  }
  return mine().filter((entry) => standing.has(entry.id)).at(-1);
}

function clock(at) {
  return at ? new Date(at).toLocaleTimeString([], { hour: "2-digit", minute: "2-digit" }) : "";
}

function say(text) {
  document.getElementById("say").textContent = text;
}

function goTo(card) {
  if (!card) return;
  if (card.hidden) { value.value = ""; show.value = "job"; draw(); }
  const top = document.querySelector(".top");
  const head = getComputedStyle(top).position === "sticky" ? top.offsetHeight : 0;
  const free = innerHeight - head - document.querySelector(".dock").offsetHeight;
  const above = Math.max(8, (free - card.offsetHeight) / 2); // in the middle; its name never lies under the header
  const behavior = matchMedia("(prefers-reduced-motion: reduce)").matches ? "auto" : "smooth";
  scrollTo({ top: card.getBoundingClientRect().top + scrollY - head - above, behavior });
  card.querySelector("h2").focus({ preventScroll: true });
}

function submit(card, form) {
  const input = form.querySelector("input");
  const text = input.value.trim();
  if (!text) return;
  const ref = card.dataset.ref;
  const kind = form.dataset.kind;
  let data = { text };
  if (kind === "out") data = { found: text };
  if (kind === "in") data = { part: text };
  if (kind === "measured") {
    const [quantity, which] = form.querySelectorAll("select");
    const [name, unit] = quantity.value.split("|");
    data = { quantity: name, unit, of: which.value, value: text };
  }
  if (record(kind, ref, data)) { input.value = ""; say(`${ref}: ${WORDS[kind]}, waiting to be recorded`); }
}

const photo = photoOf(SET, BOARD, {
  pin: (ref, data) => record("pinned", ref, data),
  open: (ref) => goTo(cards.find((card) => card.dataset.ref === ref)),
  uploaded: () => turn(),
});

document.getElementById("cards").addEventListener("click", (event) => {
  const button = event.target.closest("[data-stage]");
  if (button) tick(button.closest(".card"), button.dataset.stage);
  if (event.target.closest(".where")) photo.light(event.target.closest(".card").dataset.ref);
});
document.getElementById("cards").addEventListener("submit", (event) => {
  event.preventDefault();
  submit(event.target.closest(".card"), event.target);
});
undoButton.addEventListener("click", () => {
  const last = lastMine(new Map(cards.map((card) => [card, of(card)])));
  if (last) takeBack(last.ref, [last.id], WORDS[last.kind]);
});
nextButton.addEventListener("click", () => goTo(document.getElementById(nextButton.dataset.card)));
for (const select of [value, show]) select.addEventListener("change", draw);
remember();
turn = keepInStep(SET, (heard) => { state = heard; draw(); });

// A label's code names a position behind the address: the page opens there.
function goToAsked() {
  let ref = "";
  try { ref = decodeURIComponent(location.hash.slice(1)); } catch { /* no position's name */ }
  goTo(cards.find((card) => card.dataset.ref === ref));
}
addEventListener("hashchange", goToAsked);
goToAsked();

// The link to the bench: fetch the state of a set, deliver the queue, tell how things stand.
import { backoff, deliver, forgetRefused, refused, waiting } from "/static/queue.js";

const OFTEN = 1500;
const SELDOM = 15000;

/** Keep `set` in step. `changed(state)` is called with the state last heard of, whenever anything may have changed. */
export function keepInStep(set, changed) {
  const memory = `recap.state.${set}`;
  let state = JSON.parse(localStorage.getItem(memory) || "null") || { seq: 0, places: {}, photos: {} };
  let timer = 0;
  let link = "asking";

  async function turn() {
    clearTimeout(timer);
    const outcome = await deliver();
    const heard = outcome === "done" ? await ask() : outcome;
    link = heard;
    changed(state);
    tell(link);
    timer = setTimeout(turn, Math.max(document.hidden ? SELDOM : OFTEN, backoff()));
  }

  async function ask() {
    try {
      const answer = await fetch(`/api/set/${encodeURIComponent(set)}?after=${state.seq}`, { signal: AbortSignal.timeout(8000) });
      if (answer.status === 401) return "shut";
      if (!answer.ok) return "offline";
      const document = await answer.json();
      if (document.places) {
        state = document;
        try { localStorage.setItem(memory, JSON.stringify(state)); } catch { /* full: the queue matters more */ }
      }
      return "online";
    } catch {
      return "offline";
    }
  }

  for (const name of ["online", "focus"]) addEventListener(name, turn);
  addEventListener("storage", () => changed(state));
  document.addEventListener("visibilitychange", () => { if (!document.hidden) turn(); });
  addEventListener("beforeunload", (event) => {
    // Without a service worker a reload needs the network: say so before the page is gone.
    if (link === "offline" && waiting().length > 0 && !navigator.serviceWorker?.controller) event.preventDefault();
  });
  changed(state);
  turn();
  return turn;
}

/** Say how the link stands and how much waits. */
export function tell(link) {
  const line = document.getElementById("link");
  const count = waiting().length;
  const many = count === 1 ? "1 entry waits" : `${count} entries wait`;
  let text = "Everything is recorded.";
  let state = "online";
  if (link === "shut") {
    state = "shut";
    text = `This device is no longer let in: scan the code in the terminal again.${count ? ` ${many} here until then.` : ""}`;
  } else if (link === "offline") {
    state = "offline";
    text = count ? `Offline: ${many} on this device.` : "No connection to the bench.";
  } else if (count > 0) {
    state = "waiting";
    text = `${many} to be recorded …`;
  } else if (link === "asking") {
    state = "asking";
    text = "Asking the bench …";
  }
  if (line.textContent !== text) line.textContent = text;
  line.dataset.state = state;
  const box = document.getElementById("refused");
  if (box) showRefused(box);
}

function showRefused(box) {
  const list = refused();
  box.hidden = list.length === 0;
  const text = `Not recorded: ${list.map((event) => `${event.ref || event.set} ${event.kind} (${event.reason})`).join("; ")}.`;
  if (box.hidden || box.dataset.text === text) return;
  box.dataset.text = text;
  const seen = Object.assign(document.createElement("button"), { type: "button", textContent: "Seen" });
  seen.addEventListener("click", () => { forgetRefused(); showRefused(box); });
  box.replaceChildren(Object.assign(document.createElement("p"), { textContent: text }), seen);
}

export function remember() {
  const by = document.getElementById("by");
  if (!by) return;
  by.value = localStorage.getItem("recap.by") || "";
  by.addEventListener("change", () => localStorage.setItem("recap.by", by.value.trim()));
  if ("serviceWorker" in navigator) navigator.serviceWorker.register("/sw.js", { scope: "/" }).catch(() => {});
  foldCautions();
}

function foldCautions() {
  // What kills stands above it and can't be folded. The rest stays as it was left until the browser is closed.
  const cautions = document.getElementById("cautions");
  if (!cautions) return;
  const left = sessionStorage.getItem("recap.cautions");
  if (left) cautions.open = left === "open";
  cautions.addEventListener("toggle", () => sessionStorage.setItem("recap.cautions", cautions.open ? "open" : "read"));
}

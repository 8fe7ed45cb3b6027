// Ticks wait here, on the phone, until the record has confirmed them. Nothing leaves the queue otherwise.
// One storage key for each event: two tabs can add at once without losing each other's.
const WAITING = "recap.queue.";
const REFUSED = "recap.refused.";
const COUNTER = "recap.counter";
const BATCH = 50;

let delivering = null;
let pause = 0;
let confirmed = [];

/** A random UUID; crypto.randomUUID is missing where the page comes over plain HTTP from another machine. */
export function uuid() {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  bytes[6] = (bytes[6] & 0x0f) | 0x40;
  bytes[8] = (bytes[8] & 0x3f) | 0x80;
  const hex = Array.from(bytes, (byte) => byte.toString(16).padStart(2, "0")).join("");
  return [hex.slice(0, 8), hex.slice(8, 12), hex.slice(12, 16), hex.slice(16, 20), hex.slice(20)].join("-");
}

/** Put an event in the queue and return it. Throws where the phone can't store it: it is then not to be shown. */
export function enqueue(kind, set, board, ref, data = {}) {
  const event = { id: uuid(), kind, at: new Date().toISOString(), set, board, ref, by: person(), data };
  const number = Number(localStorage.getItem(COUNTER) || 0) + 1;
  localStorage.setItem(COUNTER, String(number));
  localStorage.setItem(`${WAITING}${String(number).padStart(12, "0")}.${event.id}`, JSON.stringify(event));
  return event;
}

/** What waits, oldest first. */
export function waiting() {
  return entries(WAITING).map(([, event]) => event);
}

/** What the record has confirmed later than `seq`, the number of the state at hand. */
export function unseen(seq) {
  confirmed = confirmed.filter((event) => event.seq > seq);
  return confirmed;
}

/** What the record would not take, with its reason. */
export function refused() {
  return entries(REFUSED).map(([, event]) => event);
}

export function forgetRefused() {
  for (const [key] of entries(REFUSED)) localStorage.removeItem(key);
}

/** Deliver what waits, in order. Resolves to "done", "offline" or "shut" (the session is over). */
export function deliver() {
  delivering ??= run().finally(() => { delivering = null; });
  return delivering;
}

/** Milliseconds to wait before the next try after failures. */
export function backoff() {
  return pause;
}

export function person() {
  return localStorage.getItem("recap.by") || null;
}

async function run() {
  for (;;) {
    const batch = entries(WAITING).slice(0, BATCH);
    if (batch.length === 0) { pause = 0; return "done"; }
    const answer = await post(batch.map(([, event]) => event));
    if (typeof answer === "string") { pause = Math.min(Math.max(pause * 2, 1000), 15000); return answer; }
    const told = new Map(answer.results.map((result) => [result.id, result]));
    let moved = false;
    for (const [key, event] of batch) {
      const result = told.get(event.id);
      if (!result) continue;
      if (result.status === "refused") {
        localStorage.setItem(key.replace(WAITING, REFUSED), JSON.stringify({ ...event, reason: result.reason }));
      } else {
        confirmed.push({ ...event, seq: result.seq });
      }
      localStorage.removeItem(key);
      moved = true;
    }
    if (!moved) return "offline";
  }
}

async function post(events) {
  try {
    const answer = await fetch("/api/events", {
      method: "POST",
      headers: { "content-type": "application/json" },
      body: JSON.stringify({ events }),
      signal: AbortSignal.timeout(10000),
    });
    if (answer.status === 401) return "shut";
    return answer.ok ? await answer.json() : "offline";
  } catch {
    return "offline";
  }
}

function entries(prefix) {
  const keys = [];
  for (let i = 0; i < localStorage.length; i += 1) {
    const key = localStorage.key(i);
    if (key.startsWith(prefix)) keys.push(key);
  }
  const found = [];
  for (const key of keys.sort()) {
    const text = localStorage.getItem(key);
    if (text) found.push([key, JSON.parse(text)]);
  }
  return found;
}

// What the record says, with what still waits on this phone laid over it.
import { unseen, waiting } from "/static/queue.js";

const EMPTY = { out: [], in: [], checked: [], told: [], pin: null };

export const placeKey = (board, ref) => `${board}\n${ref}`;

/** Return, for a place: stages (ids that stand, will: ticked in the end, state: open, waiting or done), pin, told. */
export function placeState(state, set, board, ref) {
  const known = { ...EMPTY, ...(state.places[placeKey(board, ref)] || {}) };
  const here = (event) => event.set === set && event.board === board && event.ref === ref;
  // Recorded already, but the state at hand is older than that.
  const recorded = unseen(state.seq).filter(here);
  const queued = waiting().filter(here);
  const gone = new Set(taken(recorded));
  const going = new Set(taken(queued));
  const stages = {};
  for (const stage of ["out", "in", "checked"]) {
    const done = unique([...known[stage], ...recorded.filter((event) => event.kind === stage)]).filter((tick) => !gone.has(tick.id));
    const standing = done.filter((tick) => !going.has(tick.id));
    const fresh = queued.filter((event) => event.kind === stage && !going.has(event.id) && !done.some((tick) => tick.id === event.id));
    const ids = [...standing, ...fresh].map((tick) => tick.id);
    const state = standing.length > 0 ? "done" : fresh.length > 0 || done.length > 0 ? "waiting" : "open";
    stages[stage] = { ids, will: ids.length > 0, state, at: standing[0]?.at };
  }
  return { stages, pin: pinOf(known.pin, [...recorded, ...queued]), told: toldOf(known.told, recorded, queued, gone, going) };
}

const taken = (events) => events.filter((event) => event.kind === "undone").flatMap((event) => event.data.undoes);

const unique = (ticks) => [...new Map(ticks.map((tick) => [tick.id, tick])).values()];

function pinOf(known, events) {
  const last = events.filter((event) => event.kind === "pinned").at(-1);
  if (!last) return known;
  return "x" in last.data ? [last.data.x, last.data.y] : null;
}

function toldOf(known, recorded, queued, gone, going) {
  const told = known.filter((line) => !gone.has(line.id) && !going.has(line.id));
  const there = new Set(told.map((line) => line.id));
  for (const event of [...recorded, ...queued]) {
    if (gone.has(event.id) || going.has(event.id) || there.has(event.id)) continue;
    const words = inWords(event);
    if (words) told.push({ id: event.id, text: queued.includes(event) ? `${words} (waiting)` : words });
  }
  return told;
}

/** The same words as the server's, for what it hasn't told yet. */
function inWords({ kind, data }) {
  if (kind === "note") return `note: ${data.text}`;
  if (kind === "measured") return `${data.of} part measured: ${data.value} ${data.unit} (${data.quantity})`;
  if (kind === "out" && data.found) return `old part was marked: ${data.found}`;
  if (kind === "in" && data.part) return `fitted: ${data.part}`;
  return null;
}

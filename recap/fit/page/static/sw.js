// Keeps the page usable where the network is gone: the last copy of each page is shown, ticks wait in the queue.
const CACHE = "recap-page-2";
const SHELL = ["page.css", "theme.js", "queue.js", "link.js", "overlay.js", "photo.js", "board.js", "set.js", "sets.js", "icon.svg"];

self.addEventListener("install", (event) => {
  event.waitUntil(caches.open(CACHE).then((cache) => cache.addAll(SHELL.map((name) => `/static/${name}`))).then(() => self.skipWaiting()));
});

self.addEventListener("activate", (event) => {
  event.waitUntil((async () => {
    for (const name of await caches.keys()) if (name !== CACHE) await caches.delete(name);
    await self.clients.claim();
  })());
});

self.addEventListener("fetch", (event) => {
  const address = new URL(event.request.url);
  const ours = address.origin === self.location.origin;
  if (!ours || event.request.method !== "GET" || address.pathname.startsWith("/api/") || address.pathname === "/enter") return;
  event.respondWith(networkFirst(event.request));
});

async function networkFirst(request) {
  const cache = await caches.open(CACHE);
  try {
    const answer = await fetch(request);
    if (answer.ok) await cache.put(request, answer.clone());
    return answer;
  } catch (fault) {
    const kept = await cache.match(request, { ignoreVary: true });
    if (kept) return kept;
    // A label names a place behind its board: the board's page is kept under its own address.
    const [, board, place] = new URL(request.url).pathname.match(/^(\/set\/[^/]+\/board\/[^/]+)\/([^/]+)$/) || [];
    if (board) return Response.redirect(`${board}#${place}`, 303);
    throw fault;
  }
}

// Keeps the page's files, so that it opens without a network. Written by `cargo xtask site`.
const VERSION = "almuri-@version@";
const FILES = @files@;

addEventListener("install", (event) => {
  event.waitUntil(caches.open(VERSION).then((cache) => cache.addAll(FILES.map((path) => new Request(path, { cache: "reload" })))));
});

addEventListener("activate", (event) => {
  const others = (names) => names.filter((name) => name.startsWith("almuri-") && name !== VERSION);
  event.waitUntil(caches.keys()
    .then((names) => Promise.all(others(names).map((name) => caches.delete(name))))
    .then(() => clients.claim()));
});

// A new version waits until it is asked for.
addEventListener("message", ({ data }) => { if (data === "take over") skipWaiting(); });

addEventListener("fetch", (event) => {
  if (event.request.method !== "GET") return;
  event.respondWith(caches.open(VERSION)
    .then((cache) => cache.match(event.request, { ignoreSearch: true }))
    .then((kept) => kept ?? fetch(event.request)));
});

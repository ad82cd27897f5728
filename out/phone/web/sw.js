// Keeps the page on the phone, so that it opens without network. It answers for its own files only, from what it keeps.
const CACHE = "slabwalk-fa057fb35fde";
const FILES = ["./", "manifest.webmanifest", "icon.svg", "icon-180.png", "core-722911b9d305.bin"];

self.addEventListener("install", (event) => {
  event.waitUntil(caches.open(CACHE).then((cache) => cache.addAll(FILES)));
});
self.addEventListener("activate", (event) => {
  const old = (name) => name.startsWith("slabwalk-") && name !== CACHE;
  event.waitUntil(caches.keys().then((names) => Promise.all(names.filter(old).map((name) => caches.delete(name)))).then(() => self.clients.claim()));
});
self.addEventListener("fetch", (event) => {
  if (event.request.method !== "GET") return;
  const asked = event.request.mode === "navigate" ? "./" : event.request;
  event.respondWith(caches.open(CACHE).then((cache) => cache.match(asked)).then((kept) => kept || fetch(event.request)));
});

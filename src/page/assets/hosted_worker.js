// The page without network: all files of this folder, kept under the fingerprint of what stands in them.
'use strict';
const place = self.registration.scope;
const version = place + ' {{version}}';
const files = [
  './',
{{files}}];

// All of them or none; what a browser's own store still holds is not asked.
self.addEventListener('install', (event) => {
  event.waitUntil(caches.open(version)
    .then((cache) => cache.addAll(files.map((name) => new Request(name, { cache: 'reload' }))))
    .then(() => self.skipWaiting()));
});

self.addEventListener('activate', (event) => {
  event.waitUntil(caches.keys()
    .then((names) => Promise.all(names.filter((name) => name.startsWith(place + ' ') && name !== version).map((name) => caches.delete(name))))
    .then(() => self.clients.claim()));
});

self.addEventListener('fetch', (event) => {
  if (event.request.method !== 'GET' || !event.request.url.startsWith(place)) return;
  event.respondWith(caches.open(version)
    .then((cache) => cache.match(event.request, { ignoreSearch: true }))
    .then((kept) => kept || fetch(event.request)));
});

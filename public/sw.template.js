// The worker that makes the worksheet open without a network.
//
// .ci/precache fills in VERSION (a digest over all of it) and FILES (each with its digest) after every build. One build is one
// cache: it is stored whole and checked, or not at all, and answers only from itself, so two builds are never mixed.
"use strict";

const VERSION = "@version@";
const FILES = [
  /* @files@ */
];

// Several copies may live on one host, in folders of their own: each keeps to the caches of its own folder.
const FAMILY = `kerbworth ${new URL(self.registration.scope).pathname} `;
const CACHE = FAMILY + VERSION;

self.addEventListener("install", (event) => event.waitUntil(store()));
// The page that stored the first build is this worker's from then on: a page that is nobody's would not hold back the next one.
self.addEventListener("activate", (event) => event.waitUntil(clear().then(() => self.clients.claim())));

self.addEventListener("fetch", (event) => {
  const { request } = event;
  const ours = request.method === "GET" && new URL(request.url).origin === self.location.origin;
  if (ours) event.respondWith(answer(request));
});

// A new version waits until the page asks for it: never in the middle of a worksheet.
self.addEventListener("message", (event) => {
  if (event.data === "take-over") self.skipWaiting();
});

async function store() {
  const cache = await caches.open(CACHE);
  try {
    await Promise.all(FILES.map(([path, digest]) => storeOne(cache, path, digest)));
  } catch (error) {
    await caches.delete(CACHE);
    throw error;
  }
}

// `reload` passes by the browser's own cache; the digest refuses a file of another build met while a host is being updated.
async function storeOne(cache, path, digest) {
  const response = await fetch(path, { cache: "reload" });
  if (!response.ok) throw new Error(`${path}: ${response.status}`);
  const found = await crypto.subtle.digest("SHA-256", await response.clone().arrayBuffer());
  const hex = Array.from(new Uint8Array(found), (byte) => byte.toString(16).padStart(2, "0")).join("");
  if (hex !== digest) throw new Error(`${path} is not the file of this build`);
  await cache.put(path, response);
}

async function clear() {
  const old = (await caches.keys()).filter((name) => name.startsWith(FAMILY) && name !== CACHE);
  await Promise.all(old.map((name) => caches.delete(name)));
}

// Whatever page of this folder is asked for is the worksheet, unless it is one of the stored files by name.
async function answer(request) {
  const cache = await caches.open(CACHE);
  const find = (what) => cache.match(what, { ignoreSearch: true, ignoreVary: true });
  const stored = (await find(request)) ?? (request.mode === "navigate" ? await find("./") : undefined);
  return stored ?? fetch(request);
}

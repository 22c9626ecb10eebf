// Keeps one whole version of the page for use without a network, and answers for it. The build puts `SITE` before this: the
// version, and every part of it with the hash of what is in it.
//
// Versions never mix: a part is kept only if it is exactly what was built, all parts or none, and answers come from this
// version's parts alone. A newer version waits until no page of the old one is open, or until a page says that it may come.
"use strict";
// A space stands in no address, so that no folder's name can begin like another's.
const OWN = `bittersweet:${new URL(registration.scope).pathname} `;
const NAME = OWN + SITE.version;
const PAGE = new URL("./", registration.scope);
const PARTS = new Set(Object.keys(SITE.parts).map((part) => new URL(part, PAGE).href));

addEventListener("install", (event) => event.waitUntil(keep()));
addEventListener("activate", (event) => event.waitUntil(takeOver()));
addEventListener("message", ({ data }) => data === "take" && skipWaiting());
addEventListener("fetch", (event) => {
  const part = partFor(event.request);
  if (part) event.respondWith(answer(part, event.request));
});

async function keep() {
  const cache = await caches.open(NAME);
  const parts = Object.entries(SITE.parts);
  try {
    await cache.addAll(parts.map(([part, integrity]) => new Request(part, { cache: "reload", integrity })));
  } catch (error) {
    await caches.delete(NAME);
    throw error;
  }
}

async function takeOver() {
  const names = await caches.keys();
  await Promise.all(names.filter((name) => name.startsWith(OWN) && name !== NAME).map((name) => caches.delete(name)));
  await clients.claim();
}

/** The kept part that answers a request, if one does: other pages of the host, and frames, are not ours to answer. */
function partFor({ method, mode, destination, url }) {
  const { origin, pathname, search } = new URL(url);
  if (method !== "GET") return null;
  if (mode === "navigate") {
    const page = origin === PAGE.origin && [PAGE.pathname, `${PAGE.pathname}index.html`].includes(pathname);
    return page && destination === "document" ? PAGE.href : null;
  }
  const part = origin + pathname + search;
  return PARTS.has(part) ? part : null;
}

async function answer(part, request) {
  const cache = await caches.open(NAME);
  // A browser short of space may have thrown the whole cache away.
  return (await cache.match(part, { ignoreVary: true })) ?? fetch(request);
}

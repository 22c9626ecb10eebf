// Takes the place of a worker that a built page left at this address, and goes: while the page is worked on, nothing may
// come from a store of its own.
addEventListener("install", () => skipWaiting());
addEventListener("activate", (event) => event.waitUntil(go()));

async function go() {
  const names = await caches.keys();
  await Promise.all(names.filter((name) => name.startsWith("bittersweet:")).map((name) => caches.delete(name)));
  await registration.unregister();
  for (const client of await clients.matchAll({ type: "window" })) client.navigate(client.url);
}

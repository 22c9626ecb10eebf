// Starts the page, and goes from one of its modules to another. When it does not start, or stops later, this says what happened and what to do, and offers what
// was kept of the runs as a file: by then nothing of the page itself can be relied on.
//
// It also chooses the language, before anything is painted. It is plain and stands alone, in one block so that it leaves no
// names behind. It never writes to the store.
"use strict";
{
  const site = JSON.parse(document.getElementById("site").textContent);
  // The folder that the page lies in: two installations on one host are kept apart by it.
  const scope = location.pathname.slice(0, location.pathname.lastIndexOf("/") + 1);
  const language = choose();
  const texts = site.shell[language];
  document.documentElement.lang = language;
  document.title = texts.title;
  document.querySelector("link[rel=manifest]").href = site.manifests[language];
  for (const element of document.querySelectorAll("[data-word]")) element.textContent = texts[element.dataset.word];

  /** The language to speak: by the address, by what was chosen before, by the browser, in this order; else English. */
  function choose() {
    const wishes = [new URLSearchParams(location.search).get("lang"), chosen(), ...navigator.languages];
    for (const wish of wishes.filter(Boolean)) {
      const [exact, main] = [wish, wish.split("-")[0]].map((tag) => tag.toLowerCase());
      const speaks = (tag) => Object.keys(site.words).find((there) => there.toLowerCase() === tag);
      const found = speaks(exact) ?? speaks(main);
      if (found) return found;
    }
    return "en";
  }

  /** What was chosen on this page before; the page itself writes it. */
  function chosen() {
    try {
      return localStorage.getItem(`bittersweet:${scope}:language`);
    } catch {
      return null;
    }
  }

  /** A failure to start whose cause is known: the text to show, and details for a report. */
  class Known extends Error {
    constructor(cause, details) {
      super(details);
      this.text = cause;
    }
  }

  let started = false;
  let failed = false;
  let forbidden = null;

  document.addEventListener("securitypolicyviolation", (event) => {
    forbidden ??= `${event.effectiveDirective}: ${event.blockedURI}`;
  });

  // A trap in the module, or its stack running out, ends it: no later event will be handled rightly.
  const isTrap = (error) =>
    error?.name === "RuntimeError" || (error?.name === "RangeError" && /wasm/.test(error.stack));
  window.addEventListener("error", (event) => isTrap(event.error) && fail(event.error));
  window.addEventListener("unhandledrejection", (event) => isTrap(event.reason) && fail(event.reason));

  /** Fetches a part of the page, or says why it cannot be had. */
  async function part(address) {
    const response = await fetch(address).catch((error) => {
      throw new Known("unreachable", `${address}: ${error.message}`);
    });
    if (!response.ok) throw new Known("missing", `${address}: ${response.status}`);
    return response;
  }

  // What a screen leaves for the next one: modules share nothing else.
  const left = new Map();
  // The modules that were asked for, by name, the element that each was given, and the one that shows.
  const fetched = new Map();
  const roots = new Map();
  let shown = null;

  /** The module that shows what is at the address. */
  function wanted() {
    const part = location.hash.replace(/^#?\/*/, "").split("/")[0];
    return site.modules.find(({ shows }) => shows.includes(part)) ?? site.modules[0];
  }

  /** Fetches a module, once; one that did not arrive is asked for again. */
  function module({ name, glue, wasm }) {
    if (!fetched.has(name)) {
      const arriving = fetchModule(glue, wasm);
      fetched.set(name, arriving);
      arriving.catch(() => fetched.delete(name));
    }
    return fetched.get(name);
  }

  async function fetchModule(address, wasm) {
    const glue = import(new URL(address, document.baseURI).href).catch(async (error) => {
      // An import does not tell why it failed; fetching the same does.
      await part(address);
      throw error;
    });
    const [module, response] = await Promise.all([glue, part(wasm)]);
    await module.default({ module_or_path: response });
    return module;
  }

  // Once there is something to read: a module that is drawn before would put that off. What the first frame shows is handed on
  // when its task ends; that it was painted is told later than need be waited for. A window that is hidden has no frames: so it is
  // not waited for long.
  const drawn = new Promise((done) => {
    requestAnimationFrame(() => setTimeout(done));
    setTimeout(done, 500);
  });

  /** Leaves a text where the page looks before it asks for it. One that does not arrive the page asks for again, and says so. */
  async function leave(address) {
    if (!left.has(address)) left.set(address, await (await part(address)).text());
  }

  /** The texts that a module begins with. */
  function begins(entry) {
    const spoken = document.documentElement.lang;
    return [site.words[spoken], entry === site.modules[0] ? site.offered : site.more[spoken]];
  }

  /** Says whether something else is about to show. */
  function busy(is) {
    const root = document.getElementById("app");
    if (is) root.setAttribute("aria-busy", "true");
    else root.removeAttribute("aria-busy");
  }

  /** Shows what is at the address. Until its module is there, what shows stays. */
  async function show() {
    if (failed) return;
    const next = wanted();
    const isHere = next === shown?.entry;
    document.getElementById("failure")?.remove();
    busy(shown && !isHere);
    if (isHere) {
      dispatchEvent(new Event("moved"));
      return;
    }
    let arrived;
    try {
      // The texts come beside the module, which finds them left for it: so all of it shows at once.
      const along = Promise.allSettled(begins(next).map(leave));
      arrived = await module(next);
      await along;
      await drawn;
    } catch (error) {
      if (!shown) throw error;
      // What shows lives on.
      if (next === wanted()) notOpened(error);
      return;
    }
    // Meanwhile one may have gone on, or another call may have come here.
    if (next !== wanted() || next === shown?.entry) return;
    const before = shown;
    shown = { entry: next, module: arrived };
    if (before) {
      before.module.leave();
      // It leaves what it has to as one of the tasks that wait.
      await null;
      // An element of its own, which nothing hears that listens to the other's.
      busy(false);
      const root = document.getElementById("app");
      roots.set(before.entry, root);
      root.replaceWith(roots.get(next) ?? root.cloneNode(false));
    }
    arrived.arrive(left, before !== null);
  }

  /** Has the browser fetch a module when it has nothing else to do. */
  function fetchAhead({ glue, wasm }) {
    for (const href of [glue, wasm]) {
      const ahead = document.createElement("link");
      Object.assign(ahead, { rel: "prefetch", crossOrigin: "anonymous", href });
      document.head.append(ahead);
    }
  }

  async function start() {
    if (location.protocol === "file:") throw new Known("file", location.href);
    if (typeof WebAssembly !== "object") throw new Known("old", navigator.userAgent);
    const first = wanted();
    addEventListener("hashchange", () => show().catch(fail));
    addEventListener("incomplete", () => notOpened(new Known("incomplete", left.get("incomplete"))));
    await show();
    started = true;
    // For `offline.js`, which may come before or after.
    document.documentElement.dataset.started = "yes";
    // What follows is for later: what shows is painted first.
    setTimeout(() => {
      // From the start one goes on to the next module most often. Elsewhere the start came along, since the page itself asks
      // for it: it is made ready for when one goes there.
      if (first !== site.modules[0]) module(site.modules[0]).catch(() => {});
      else if (site.modules[1]) {
        fetchAhead(site.modules[1]);
        leave(site.scenarios).catch(() => {});
      }
      dispatchEvent(new Event("started"));
    }, 100);
  }

  function element(tag, content, ...children) {
    const made = document.createElement(tag);
    made.textContent = content;
    made.append(...children);
    return made;
  }

  /** A panel that says what happened, with one thing to do about it. */
  function said(title, cause, error, more, act, onclick) {
    const heading = element("h2", title);
    heading.tabIndex = -1;
    const button = element("button", texts[act]);
    button.addEventListener("click", onclick);
    const report = [site.version, error.message, forbidden, error.stack].filter(Boolean).join("\n");
    const details = element("details", "", element("summary", texts.details), element("pre", report));
    const panel = element("section", "", heading, element("p", cause), more, element("p", "", button), details);
    panel.id = "failure";
    panel.lang = language;
    panel.setAttribute("role", "alert");
    return panel;
  }

  /** Says that a module or what it needs did not arrive: what shows goes on, and one can ask again. */
  async function notOpened(error) {
    busy(false);
    // What is not on the server is another version by now; what a module needs it asks for when it begins.
    const [act, go] = ["missing", "incomplete"].includes(error.text)
      ? ["reload", () => location.reload()]
      : ["again", () => show().catch(fail)];
    const keep = element("p", texts.searching);
    const panel = said(texts["not-opened"], texts[error.text ?? "fault"], error, keep, act, go);
    document.getElementById("failure")?.remove();
    document.body.prepend(panel);
    panel.firstChild.focus();
    offer(keep, await kept());
  }

  async function fail(error) {
    if (failed) return;
    failed = true;
    // The browser tells of a broken policy a moment after the failure that it caused.
    await new Promise((done) => setTimeout(done, 100));
    const cause = started ? "fault" : forbidden ? "policy" : (error.text ?? "fault");
    const keep = element("p", texts.searching);
    const panel = said(texts[started ? "stopped" : "not-started"], texts[cause], error, keep, "reload", () => location.reload());

    const starting = document.getElementById("starting");
    if (starting) {
      starting.replaceWith(panel);
    } else {
      // The dead page stays to be read, but nothing in it can be used any more.
      document.getElementById("app")?.setAttribute("inert", "");
      document.body.prepend(panel);
    }
    panel.firstChild.focus();
    // A newer version that waits may be the mended one, and this one has nothing more to lose.
    const registration = await navigator.serviceWorker?.getRegistration().catch(() => null);
    registration?.waiting?.postMessage("take");
    offer(keep, await kept());
  }

  /** Puts the button to save what was kept where the page has looked for it. */
  function offer(place, stores) {
    if (!stores) {
      place.textContent = texts.nothing;
      return;
    }
    const button = element("button", texts.save);
    button.addEventListener("click", () => save(stores));
    place.textContent = `${texts.kept} ${stores.runs?.length ?? 0} `;
    place.append(button);
  }

  function save(stores) {
    const now = new Date().toISOString();
    const content = { format: "bittersweet-kept", version: 1, page: site.version ?? null, saved: now, stores };
    const link = document.createElement("a");
    link.href = URL.createObjectURL(new Blob([JSON.stringify(content, null, 1)], { type: "application/json" }));
    link.download = `bittersweet-kept-${now.slice(0, 10)}.json`;
    link.click();
    setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
  }

  // The page's own buttons for the same, where something has failed and the page goes on.
  document.addEventListener("click", async ({ target }) => {
    const button = target.closest?.("[data-saves=kept]");
    if (!button) return;
    const stores = await kept();
    if (stores) {
      save(stores);
      return;
    }
    const nothing = element("p", texts.nothing);
    nothing.setAttribute("role", "alert");
    button.removeAttribute("data-saves");
    button.after(nothing);
  });

  /** The database of whoever practises in this window; the page itself writes who that is. */
  function ownStore() {
    const key = `bittersweet:${scope}:learner`;
    let learner = "";
    try {
      learner = sessionStorage.getItem(key) || localStorage.getItem(key) || "";
    } catch {
      // Without a memory it is the first one.
    }
    return `bittersweet:${scope}${learner && ` ${learner}`}`;
  }

  /** Everything in the page's database by store, or null when there is none, or nothing in it. */
  async function kept() {
    try {
      const database = await new Promise((resolve, reject) => {
        const request = indexedDB.open(ownStore());
        // Opening would make a database that is not there: this undoes it.
        request.onupgradeneeded = () => request.transaction.abort();
        request.onsuccess = () => resolve(request.result);
        request.onblocked = reject;
        request.onerror = (event) => {
          event.preventDefault();
          reject(request.error);
        };
      });
      try {
        const names = [...database.objectStoreNames];
        const reading = database.transaction(names, "readonly");
        const all = (name) =>
          new Promise((resolve, reject) => {
            const request = reading.objectStore(name).getAll();
            request.onsuccess = () => resolve([name, request.result]);
            request.onerror = () => reject(request.error);
          });
        const stores = Object.fromEntries(await Promise.all(names.map(all)));
        return Object.values(stores).some((records) => records.length > 0) ? stores : null;
      } finally {
        database.close();
      }
    } catch {
      return null;
    }
  }

  start().catch(fail);
}

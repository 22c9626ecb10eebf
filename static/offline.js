// Has the page kept for use without a network, and finds out when a newer version of it is ready. How it stands is written
// on the document (`data-offline`), and each change is told by an event `offline-state`; the page asks for the newer
// version by an event `take-newer`.
"use strict";
{
  const { worker } = JSON.parse(document.getElementById("site").textContent);
  const container = navigator.serviceWorker;
  let taking = false;

  /** `insecure`, `frame`, `none` (not possible), `coming`, `ready`, `newer` (one waits), `taken` (by another window). */
  function stands(state) {
    document.documentElement.dataset.offline = state;
    dispatchEvent(new Event("offline-state"));
  }

  // The one policy that may make a text into a script's address, and the only address it makes. Taking its name here
  // also keeps anything else from taking it.
  const policy = window.trustedTypes?.createPolicy("app", {
    createScriptURL: (address) => {
      if (address !== "sw.js") throw new TypeError(`not a script of this page: ${address}`);
      return address;
    },
  });

  async function keep() {
    stands("coming");
    const address = policy ? policy.createScriptURL(worker) : worker;
    const registration = await container.register(address, { updateViaCache: "none" });
    // A page that no worker answered for came whole from the server.
    let answered = Boolean(container.controller);
    const look = () => {
      // What another window has taken is not made undone by what follows.
      if (document.documentElement.dataset.offline === "taken") return;
      if (answered && registration.waiting) stands("newer");
      else if (registration.active) stands("ready");
    };
    const follow = () => registration.installing?.addEventListener("statechange", ({ target }) => {
      if (target.state === "redundant" && !registration.active) stands("none");
      else look();
    });
    registration.addEventListener("updatefound", follow);
    container.addEventListener("controllerchange", () => {
      if (taking) location.reload();
      else if (answered) stands("taken");
      answered = true;
    });
    addEventListener("take-newer", () => {
      taking = true;
      if (registration.waiting) registration.waiting.postMessage("take");
      else location.reload();
    });
    // Who leaves the page open for days is told too.
    document.addEventListener("visibilitychange", () => {
      if (document.visibilityState === "visible") registration.update().catch(() => {});
    });
    follow();
    look();
  }

  if (!worker) stands("none");
  else if (window !== window.top) stands("frame");
  else if (!window.isSecureContext) stands("insecure");
  else if (!container) stands("none");
  // What the page needs to start comes first.
  else if (document.documentElement.dataset.started) keep().catch(() => stands("none"));
  else addEventListener("started", () => keep().catch(() => stands("none")));
}

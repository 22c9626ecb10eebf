// Starts the page. When it does not start, or stops later, this says what happened and what to do, and offers what
// was kept of the runs as a file: by then nothing of the page itself can be relied on.
//
// It is plain and stands alone, in one block so that it leaves no names behind. It never writes to the store.
"use strict";
{
  const TEXTS = {
    en: {
      notStarted: "The page did not start",
      stopped: "The page has stopped",
      file: "It was opened as a file, and browsers do not run it from there. Open it by its web address (http:// or https://); where it lies on your own computer, start a small web server in its folder.",
      old: "This browser cannot run it: WebAssembly is missing or switched off. Use an up-to-date browser, or ask whoever looks after this computer to allow WebAssembly for this address.",
      missing: "A part of it is not on the server. Load the page again; if that does not help, tell whoever runs this address that the folder is not complete.",
      unreachable: "A part of it could not be fetched. Check the connection, then load the page again.",
      policy: "A security policy of this address or this browser forbids a part of it. Tell whoever runs this address; the policy that the page needs stands in its own first lines.",
      fault: "Something in it went wrong that should not have. Load the page again: what was kept is still there, and a run goes on where it was.",
      reload: "Load the page again",
      details: "For a report",
      searching: "Looking for what was kept …",
      nothing: "No runs are kept in this browser.",
      save: "Save what was kept as a file",
      kept: "Runs kept in this browser: ",
    },
    es: {
      notStarted: "La página no ha arrancado",
      stopped: "La página se ha detenido",
      file: "Se abrió como archivo, y los navegadores no la ejecutan así. Ábrala por su dirección web (http:// o https://); si está en su propio equipo, inicie un pequeño servidor web en su carpeta.",
      old: "Este navegador no puede ejecutarla: falta WebAssembly o está desactivado. Use un navegador actualizado o pida a quien administra este equipo que permita WebAssembly en esta dirección.",
      missing: "Falta una parte en el servidor. Vuelva a cargar la página; si no basta, avise a quien mantiene esta dirección de que la carpeta no está completa.",
      unreachable: "No se pudo descargar una parte. Compruebe la conexión y vuelva a cargar la página.",
      policy: "Una política de seguridad de esta dirección o de este navegador prohíbe una parte. Avise a quien mantiene esta dirección; la política que la página necesita está en sus primeras líneas.",
      fault: "Algo falló en ella que no debía fallar. Vuelva a cargar la página: lo guardado sigue ahí y la prueba continúa donde estaba.",
      reload: "Volver a cargar la página",
      details: "Para un aviso de error",
      searching: "Buscando lo guardado …",
      nothing: "No hay pruebas guardadas en este navegador.",
      save: "Guardar en un archivo lo que había",
      kept: "Pruebas guardadas en este navegador: ",
    },
  };
  const language = (navigator.language || "en").toLowerCase().startsWith("es") ? "es" : "en";
  const texts = TEXTS[language];

  /** A failure to start whose cause is known: the text to show, and details for a report. */
  class Known extends Error {
    constructor(cause, details) {
      super(details);
      this.text = cause;
    }
  }

  let site = {};
  let started = false;
  let failed = false;
  let forbidden = null;

  document.addEventListener("securitypolicyviolation", (event) => {
    forbidden ??= `${event.effectiveDirective}: ${event.blockedURI}`;
  });

  // The one policy that may make a text into a script's address, and the only address it makes. Taking its name here
  // also keeps anything else from taking it.
  window.trustedTypes?.createPolicy("app", {
    createScriptURL: (address) => {
      if (address !== "sw.js") throw new TypeError(`not a script of this page: ${address}`);
      return address;
    },
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

  async function start() {
    if (location.protocol === "file:") throw new Known("file", location.href);
    if (typeof WebAssembly !== "object") throw new Known("old", navigator.userAgent);
    site = JSON.parse(document.getElementById("site").textContent);
    const glue = import(new URL(site.glue, document.baseURI).href).catch(async (error) => {
      // An import does not tell why it failed; fetching the same does.
      await part(site.glue);
      throw error;
    });
    const [{ default: init }, wasm] = await Promise.all([glue, part(site.wasm)]);
    await init({ module_or_path: wasm });
    started = true;
  }

  function element(tag, content, ...children) {
    const made = document.createElement(tag);
    made.textContent = content;
    made.append(...children);
    return made;
  }

  async function fail(error) {
    if (failed) return;
    failed = true;
    // The browser tells of a broken policy a moment after the failure that it caused.
    await new Promise((done) => setTimeout(done, 100));
    const cause = started ? "fault" : forbidden ? "policy" : (error.text ?? "fault");
    const report = [site.version, error.message, forbidden, error.stack].filter(Boolean).join("\n");

    const heading = element("h2", texts[started ? "stopped" : "notStarted"]);
    heading.tabIndex = -1;
    const reload = element("button", texts.reload);
    reload.addEventListener("click", () => location.reload());
    const keep = element("p", texts.searching);
    const details = element("details", "", element("summary", texts.details), element("pre", report));
    const panel = element("section", "", heading, element("p", texts[cause]), keep, element("p", "", reload), details);
    panel.id = "failure";
    panel.lang = language;
    panel.setAttribute("role", "alert");

    const starting = document.getElementById("starting");
    if (starting) {
      starting.replaceWith(panel);
    } else {
      // The dead page stays to be read, but nothing in it can be used any more.
      document.getElementById("app")?.setAttribute("inert", "");
      document.body.prepend(panel);
    }
    heading.focus();
    offer(keep, await kept());
  }

  /** Puts the button to save what was kept where the page has looked for it. */
  function offer(place, stores) {
    if (!stores) {
      place.textContent = texts.nothing;
      return;
    }
    const save = element("button", texts.save);
    save.addEventListener("click", () => {
      const now = new Date().toISOString();
      const content = { format: "bittersweet-kept", version: 1, page: site.version ?? null, saved: now, stores };
      const link = document.createElement("a");
      link.href = URL.createObjectURL(new Blob([JSON.stringify(content, null, 1)], { type: "application/json" }));
      link.download = `bittersweet-kept-${now.slice(0, 10)}.json`;
      link.click();
      setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
    });
    place.textContent = `${texts.kept}${stores.runs?.length ?? 0} `;
    place.append(save);
  }

  /** Everything in the page's database by store, or null when there is none, or nothing in it. */
  async function kept() {
    try {
      const scope = location.pathname.slice(0, location.pathname.lastIndexOf("/") + 1);
      const database = await new Promise((resolve, reject) => {
        const request = indexedDB.open(`bittersweet:${scope}`);
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

// Use without a network: after one visit everything is there in every language; versions never mix; a newer one waits
// until it is taken. Installing, too.
import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { type Page, chromium, expect, test as base } from "@playwright/test";
import { open, spoilt } from "./conductor";
import { Host, built, listed, next } from "./host";
import { settled } from "./store";

const test = base.extend<{ host: Host; seen: string[] }>({
  serviceWorkers: "allow",
  host: async ({}, use) => {
    const host = await Host.open(built(), "/training/");
    await use(host);
    await host.shut();
  },
  seen: [
    async ({ context }, use) => {
      const seen: string[] = [];
      context.on("console", (message) => message.type() === "error" && seen.push(message.text()));
      context.on("weberror", (error) => seen.push(error.error().message));
      await context.addInitScript(() => {
        document.addEventListener("securitypolicyviolation", (event) =>
          console.error(`policy: ${event.effectiveDirective} ${event.blockedURI}`),
        );
      });
      await use(seen);
      // That nobody answers, or that something is not there, is what these tests are about; anything else is a fault.
      expect(seen.filter((text) => !/ERR_CONNECTION_REFUSED|ERR_FAILED|status of 404/.test(text))).toEqual([]);
    },
    { auto: true },
  ],
});

test.describe.configure({ timeout: 90_000 });

/** The addresses that need no run: those in the page's own table. */
const ADDRESSES = [...readFileSync(join(__dirname, "../../app/src/screen.rs"), "utf8").matchAll(/\["([a-z]*)"\] => Self/g)].map(([, address]) => address);

const stands = (page: Page, state: string) => expect(page.locator("html")).toHaveAttribute("data-offline", state);
const about = (page: Page) => page.locator(".top nav a");

async function visit(page: Page, host: Host) {
  await page.goto(host.url);
  await stands(page, "ready");
}

/** Every address that there is, with what shows that it came up. */
async function everyScreen(page: Page, url: string) {
  const shows = async (address: string, selector: string) => {
    await page.goto(`${url}#/${address}`);
    await expect(page.locator(selector).first(), address).toBeVisible();
    // A fresh load of the address, not only a change of the fragment.
    await page.reload();
    await expect(page.locator(selector).first(), `${address}, loaded again`).toBeVisible();
  };
  expect(ADDRESSES).toEqual(expect.arrayContaining(["", "about", "learners", "drills"]));
  for (const address of ADDRESSES) await shows(address, "#heading");
  await shows("", "#begin-bakery");
  await shows("about", ".cautions");
  await shows("learners", "#save-all");
  await shows("x/y", "main > p");
  await shows("drills", ".practice .options, .practice form");
  await page.goto(`${url}#/questions`);
  await page.click("#start, .practice [type=submit], .practice .main");
  await expect(page.locator(".question .ask")).toBeVisible();
  await page.goto(`${url}#/`);
  await page.click("#begin-bakery");
  await expect(page.locator("#squeeze")).toBeVisible();
  await page.click("#act-ask-clearance-");
  await settled(page);
  await page.reload();
  await expect(page.locator(".logbook li.did")).toHaveCount(1);
  await page.goto(`${url}#/`);
  await open(page, spoilt("paint-line"));
  await expect(page.locator(".finding").first()).toBeVisible();
  await page.reload();
  await expect(page.locator(".finding").first()).toBeVisible();
  await page.goto(`${url}#/`);
  await page.click("#watch-joinery");
  await expect(page.locator("#step")).toBeVisible();
  await page.click("#step");
  await page.goto(page.url().replace("watch/", "compare/"));
  await expect(page.locator("#sum")).toBeVisible();
}

test("after one visit every screen works with the server gone, in both languages", async ({ page, host }) => {
  test.setTimeout(180_000);
  await visit(page, host);
  await host.shut();
  for (const [language, said] of [["en", "What this is"], ["es", "Qué es esto"]]) {
    // An address with a question mark is the same page.
    await page.goto(`${host.url}?lang=${language}`);
    await expect(about(page)).toHaveText(said);
    await everyScreen(page, `${host.url}?lang=${language}`);
  }
  await page.goto(`${host.url}index.html`);
  await expect(about(page)).toBeVisible();
  await about(page).click();
  await expect(page.getByText("every screen works without a network")).toBeVisible();
});

test("the other language is there at once, without a second visit", async ({ page, host }) => {
  await visit(page, host);
  await host.shut();
  await page.getByRole("button", { name: "Español" }).click();
  await expect(about(page)).toHaveText("Qué es esto");
});

test("what is kept is what was built, no more and no less", async ({ page, host }) => {
  await visit(page, host);
  const kept = await page.evaluate(async () => {
    const [name, ...others] = await caches.keys();
    const cache = await caches.open(name);
    return { name, others, urls: (await cache.keys()).map((request) => request.url) };
  });
  const parts = [...host.site.keys()].filter((part) => part !== "sw.js").map((part) => (part === "index.html" ? "" : part));
  expect(kept.urls.sort()).toEqual(parts.map((part) => host.url + part).sort());
  expect(kept.name).toBe(`bittersweet:/training/ ${listed(host.site).version}`);
  expect(kept.others).toEqual([]);
});

test("other addresses of the host are left alone, and other installations keep what is theirs", async ({ page, host }) => {
  await visit(page, host);
  await page.evaluate(() => Promise.all(["bittersweet:/training/room/ 1", "bittersweet:/ 1", "another"].map((name) => caches.open(name))));
  expect((await page.request.get(`${host.url}nothing`)).status()).toBe(404);
  expect(await page.evaluate(() => fetch("nothing").then((response) => response.status))).toBe(404);
  host.site.set("room/", Buffer.from("another page"));
  await page.goto(`${host.url}room/`);
  await expect(page.locator("body")).toHaveText("another page");
  host.site = next(host.site, "Newer");
  await page.goto(host.url);
  await page.click("#take-newer");
  await expect(about(page)).toHaveText("Newer");
  const names = await page.evaluate(() => caches.keys());
  expect(names.sort()).toEqual(["another", "bittersweet:/ 1", "bittersweet:/training/room/ 1", `bittersweet:/training/ ${listed(host.site).version}`].sort());
});

test("a newer version waits until it is taken, and no act is lost by it", async ({ page, host, context }) => {
  await visit(page, host);
  const other = await context.newPage();
  await visit(other, host);
  host.site = next(host.site, "What this is, anew");
  await page.reload();
  // The old one whole, and a notice.
  await expect(page.locator(".newer")).toContainText("A newer version of this page is ready");
  await expect(about(page)).toHaveText("What this is");
  await page.click("#begin-sawmill");
  await page.click("#act-ask-clearance-");
  await settled(page);
  for (let again = 0; again < 2; again++) {
    await page.reload();
    await expect(about(page)).toHaveText("What this is");
    await expect(page.locator(".logbook li.did")).toHaveCount(1);
    await expect(page.locator(".newer")).toBeVisible();
  }
  await page.getByRole("button", { name: "Español" }).click();
  await expect(page.locator(".newer")).toContainText("Hay una versión nueva");
  await page.getByRole("button", { name: "English" }).click();
  // In the moment after an act, too.
  await page.click('.phases button:has-text("Briefing")');
  await page.click("#act-agree-signals-");
  await page.click("#take-newer");
  await expect(about(page)).toHaveText("What this is, anew");
  await expect(page.locator(".logbook li.did")).toHaveCount(2);
  await expect(page.locator(".newer")).toHaveCount(0);
  // The other window was left as it was, and says so.
  await expect(about(other)).toHaveText("What this is");
  await expect(other.locator(".newer")).toContainText("taken in another window");
  await other.click("#take-newer");
  await expect(about(other)).toHaveText("What this is, anew");
});

test("once no window of the old version is open, the newer one comes by itself", async ({ page, host, context }) => {
  await visit(page, host);
  host.site = next(host.site, "Newer");
  await page.reload();
  await expect(page.locator(".newer")).toBeVisible();
  await page.goto("about:blank");
  const fresh = await context.newPage();
  await expect(async () => {
    await fresh.goto(host.url);
    await expect(about(fresh)).toHaveText("Newer", { timeout: 500 });
  }).toPass();
});

for (const [what, spoil] of Object.entries<(host: Host) => void>({
  "lacks a file": (host) => void host.site.delete([...host.site.keys()].find((one) => one.startsWith("words/es-"))!),
  "has a file that is not the one that was built": (host) => {
    const name = [...host.site.keys()].find((one) => one.startsWith("questions/es/result"))!;
    host.site.set(name, Buffer.from("<!doctype html><p>Log in to the network"));
  },
  "has the page of another version": (host) => {
    host.site.set("index.html", next(host.site, "Third").get("index.html")!);
  },
})) {
  test(`a newer version that ${what} is not taken at all`, async ({ page, host }) => {
    await visit(page, host);
    const old = host.site;
    host.site = next(host.site, "Newer");
    const whole = new Map(host.site);
    spoil(host);
    await page.evaluate(async () => {
      const registration = (await navigator.serviceWorker.getRegistration())!;
      await registration.update();
      const tried = registration.installing!;
      while (tried.state !== "redundant") await new Promise((done) => tried.addEventListener("statechange", done, { once: true }));
    });
    expect(await page.evaluate(() => caches.keys())).toEqual([`bittersweet:/training/ ${listed(old).version}`]);
    await expect(page.locator(".newer")).toHaveCount(0);
    await page.reload();
    await expect(about(page)).toHaveText("What this is");
    // Mended, it comes.
    host.site = whole;
    await page.reload();
    await expect(page.locator(".newer")).toBeVisible({ timeout: 15_000 });
  });
}

test("where nothing can be kept, the newer version is not offered: loading anew would lose what is in memory", async ({ page, host }) => {
  await page.addInitScript(() => Object.defineProperty(window, "indexedDB", { value: undefined }));
  await visit(page, host);
  host.site = next(host.site, "Newer");
  await page.reload();
  await expect(page.locator(".newer")).toContainText("once this page has been closed");
  await expect(page.locator("#take-newer")).toHaveCount(0);
});

test("a version that does not start gives way to the newer one", async ({ page, host }) => {
  // Only the first load comes from the network, so the wasm that is kept is damaged in the store itself.
  await visit(page, host);
  await page.evaluate(async () => {
    const cache = await caches.open((await caches.keys())[0]);
    const wasm = (await cache.keys()).find((request) => /\/start-.*\.wasm$/.test(request.url))!;
    await cache.put(wasm, new Response("broken", { headers: { "content-type": "application/wasm" } }));
  });
  host.site = next(host.site, "Mended");
  await page.reload();
  await expect(page.locator("#failure")).toContainText("The page did not start");
  await expect(async () => {
    await page.reload();
    await expect(about(page)).toHaveText("Mended", { timeout: 1_000 });
  }).toPass({ timeout: 15_000 });
});

test("in a frame nothing is kept, and it says so", async ({ page, host }) => {
  host.site.set("frame.html", Buffer.from('<!doctype html><title>Course</title><iframe src="./#/about" title="page"></iframe>'));
  await page.goto(`${host.url}frame.html`);
  const inside = page.frameLocator("iframe");
  await expect(inside.locator("html")).toHaveAttribute("data-offline", "frame");
  // Two pages start at once here, from a server in the test's own process.
  await expect(inside.getByText("Inside another page")).toBeVisible({ timeout: 15_000 });
  expect(await page.evaluate(() => navigator.serviceWorker.getRegistrations().then((all) => all.length))).toBe(0);
});

test("at an address that is not secure it says so", async ({ page, host }) => {
  await page.addInitScript(() => Object.defineProperty(window, "isSecureContext", { value: false }));
  await page.goto(`${host.url}#/about`);
  await expect(page.getByText("only from an https address or from localhost")).toBeVisible({ timeout: 15_000 });
  expect(await page.evaluate(() => navigator.serviceWorker.getRegistrations().then((all) => all.length))).toBe(0);
});

test("it can be installed, and its icons and manifest are there in each language", async ({ host }) => {
  const profile = mkdtempSync(join(tmpdir(), "bittersweet-"));
  // A window that keeps nothing cannot install anything, so this is one that does.
  const context = await chromium.launchPersistentContext(profile, {
    executablePath: process.env.CHROMIUM,
    args: ["--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-background-networking", "--disable-sync"],
  });
  const page = context.pages()[0] ?? (await context.newPage());
  const session = await context.newCDPSession(page);
  for (const language of ["en", "es"]) {
    await page.goto(`${host.url}?lang=${language}`);
    await stands(page, "ready");
    const { installabilityErrors } = await session.send("Page.getInstallabilityErrors");
    expect(installabilityErrors).toEqual([]);
    // The page names the manifest of its language; which one a browser takes that has read another before is the browser's affair.
    const named = await page.locator("link[rel=manifest]").getAttribute("href");
    const manifest = JSON.parse(host.site.get(named!)!.toString());
    expect(manifest.lang).toBe(language);
    expect((await session.send("Page.getAppManifest")).errors).toEqual([]);
    expect(manifest.start_url).toBe("./");
    for (const { src } of manifest.icons) expect(host.site.has(src), src).toBe(true);
  }
  expect(host.missed).toEqual([]);
  await context.close();
  rmSync(profile, { recursive: true, force: true });
});

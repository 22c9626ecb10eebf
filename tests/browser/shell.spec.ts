// The shell round the page: what it shows before the page runs, and when it does not run at all.
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { type Page, expect, test } from "@playwright/test";
import { NO_WORKER } from "./conductor";

/** The strict server; and one like the plainest host: in a folder, without the policy as a header, for any name. */
const HOSTS = { "with the policy as a header": process.env.BASE_URL!, "with the page's own policy only": process.env.PLAIN_URL! };

/** What a page reports that should not happen: errors on the console, broken policies, requests that leave. */
async function watch(page: Page) {
  const seen: string[] = [];
  page.on("console", (message) => {
    if (["error", "warning"].includes(message.type()) && message.text() !== NO_WORKER) seen.push(message.text());
  });
  page.on("pageerror", (error) => seen.push(error.message));
  page.on("request", (request) => {
    const url = new URL(request.url());
    if (!Object.values(HOSTS).some((host) => url.origin === new URL(host).origin)) seen.push(`request to ${url}`);
  });
  await page.exposeFunction("report", (text: string) => seen.push(text));
  await page.addInitScript(() => {
    document.addEventListener("securitypolicyviolation", (event) =>
      (window as any).report(`policy: ${event.effectiveDirective} ${event.blockedURI}`),
    );
  });
  return seen;
}

/** Waits until the page has taken over from the shell. */
const running = (page: Page) => expect(page.locator("#starting")).toHaveCount(0);

/** What the shell says of a failure; the start has an alert of its own, empty while nothing is wrong. */
const failure = (page: Page) => page.getByRole("alert").filter({ hasText: /\S/ });

for (const [host, url] of Object.entries(HOSTS)) {
  test.describe(host, () => {
    test("the page runs, breaks no policy, reports no error and asks nobody else", async ({ page }) => {
      const seen = await watch(page);
      await page.goto(url);
      await running(page);
      await expect(page.getByRole("heading", { level: 1 })).toBeVisible();
      await page.waitForLoadState("networkidle");
      expect(seen).toEqual([]);
    });

    test("the policy holds: text does not become script", async ({ page }) => {
      await page.goto(url);
      const refused = await page.evaluate(() => {
        try {
          document.createElement("div").innerHTML = "<b>no</b>";
          return "";
        } catch (error) {
          return (error as Error).name;
        }
      });
      expect(refused).toBe("TypeError");
    });

    test("the first screen's heading and sentence stand before the module has come, and stay where they are", async ({ page }) => {
      let release = () => {};
      const held = new Promise<void>((done) => (release = done));
      await page.route("**/*.wasm", async (route) => {
        await held;
        await route.continue();
      });
      await page.goto(url, { waitUntil: "commit" });
      const heading = page.getByRole("heading", { level: 1, name: "Run a fit test before you run one on a worker" });
      const sentence = page.getByText("from clearance to record");
      const places = async () => Promise.all([heading, sentence].map((one) => one.boundingBox()));
      await expect(heading).toBeVisible();
      await expect(page.getByRole("status")).toHaveText("Starting …");
      const before = await places();
      release();
      await running(page);
      expect(await places()).toEqual(before);
    });

    test("a module that is not there is said, with its address", async ({ page }) => {
      await page.route("**/*.wasm", (route) => route.fulfill({ status: 404, body: "no" }));
      await page.goto(url);
      await expect(failure(page)).toContainText("A part of it is not on the server");
      await expect(failure(page)).toContainText("No runs are kept in this browser");
      await expect(page.getByRole("heading", { level: 2 })).toBeFocused();
      await page.getByText("To report an error").click();
      await expect(failure(page).locator("pre")).toContainText(/start-[0-9a-f]{16}\.wasm: 404/);
    });
  });
}

test("glue that is not there is said", async ({ page }) => {
  await page.route(/start-[0-9a-f]+\.js/, (route) => route.fulfill({ status: 404, body: "no" }));
  await page.goto("");
  await expect(failure(page)).toContainText("A part of it is not on the server");
});

test("a lost connection is said", async ({ page }) => {
  await page.route("**/*.wasm", (route) => route.abort());
  await page.goto("");
  await expect(failure(page)).toContainText("could not be fetched");
});

test("a module that fails as it draws is said where it can be seen", async ({ page }) => {
  const body = "export default async () => {}; export function arrive() { throw new Error('stuck'); }";
  await page.route("**/start*.js", (route) => route.fulfill({ contentType: "text/javascript", body }));
  await page.goto(".");
  await expect(failure(page)).toBeVisible();
  await expect(failure(page)).toContainText("stuck");
  await expect(page.getByRole("heading", { level: 2 })).toBeFocused();
});

test("a module that is damaged is said", async ({ page }) => {
  await page.route("**/*.wasm", (route) => route.fulfill({ contentType: "application/wasm", body: "not a module" }));
  await page.goto("");
  await expect(failure(page)).toContainText("Something in it went wrong");
});

test("a stricter policy of the host is said", async ({ page }) => {
  await page.route(process.env.BASE_URL!, async (route) => {
    const response = await route.fetch();
    const policy = "script-src 'self'";
    await route.fulfill({ response, headers: { ...response.headers(), "content-security-policy": policy } });
  });
  await page.goto("");
  await expect(failure(page)).toContainText("A security policy of this address");
});

test("a browser without WebAssembly is told so", async ({ page }) => {
  await page.addInitScript(() => delete (window as any).WebAssembly);
  await page.goto("");
  await expect(failure(page)).toContainText("WebAssembly is missing or switched off");
});

test("a page opened as a file says what to do instead", async ({ page }) => {
  await page.goto(pathToFileURL(join(process.env.DIST!, "index.html")).href);
  await expect(failure(page)).toContainText("It was opened as a file");
});

test.describe("in Spanish", () => {
  test.use({ locale: "es-MX" });
  test("a failure is told in Spanish", async ({ page }) => {
    await page.route("**/*.wasm", (route) => route.fulfill({ status: 404, body: "no" }));
    await page.goto("");
    await expect(failure(page)).toHaveAttribute("lang", "es");
    await expect(failure(page)).toContainText("Falta una parte en el servidor");
  });
});

test("a page that stops later says so, and what was kept can be saved as a file", async ({ page }) => {
  await page.goto("");
  await running(page);
  const record = { id: "r1", json: '{"acts":[]}' };
  await page.evaluate(async (record) => {
    const database = await new Promise<IDBDatabase>((done, failed) => {
      // Whatever the page keeps is put aside: this test has its own.
      indexedDB.deleteDatabase("bittersweet:/");
      const request = indexedDB.open("bittersweet:/", 1);
      request.onupgradeneeded = () => {
        request.result.createObjectStore("runs", { keyPath: "id" });
        request.result.createObjectStore("acts", { keyPath: ["run", "n"] });
        request.result.createObjectStore("settings", { keyPath: "key" });
      };
      request.onsuccess = () => done(request.result);
      request.onerror = () => failed(request.error);
    });
    await new Promise((done) => {
      const writing = database.transaction("runs", "readwrite");
      writing.objectStore("runs").put(record);
      writing.oncomplete = done;
    });
    database.close();
    setTimeout(() => {
      throw new WebAssembly.RuntimeError("unreachable");
    });
  }, record);
  await expect(failure(page)).toContainText("The page has stopped");
  await expect(failure(page)).toContainText("Runs kept in this browser: 1");
  await expect(page.locator("#app")).toHaveAttribute("inert");
  const [download] = await Promise.all([
    page.waitForEvent("download"),
    page.getByRole("button", { name: "Save what was kept as a file" }).click(),
  ]);
  const saved = JSON.parse(readFileSync(await download.path(), "utf8"));
  expect(saved.format).toBe("bittersweet-kept");
  expect(saved.stores).toEqual({ runs: [record], acts: [], settings: [] });
});

test("looking for what was kept makes no database", async ({ page }) => {
  await page.route("**/*.wasm", (route) => route.fulfill({ status: 404, body: "no" }));
  await page.goto("");
  await expect(failure(page)).toContainText("No runs are kept in this browser");
  expect(await page.evaluate(() => indexedDB.databases())).toEqual([]);
});

test("addresses that are not there are 404, and other names for this machine are refused", async ({ request }) => {
  for (const address of ["robots.txt", "nothing", "..%2f..%2fCargo.toml", "words/"]) {
    expect((await request.get(address)).status(), address).toBe(404);
  }
  expect((await request.get("", { headers: { host: "elsewhere.example" } })).status()).toBe(421);
});

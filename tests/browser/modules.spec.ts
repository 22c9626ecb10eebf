// The page comes in modules, each fetched when the first of its screens is opened. Going from one to another loses nothing,
// asks for nothing twice, and leaves what shows alone until the next has come.
import { type Page, type Route, test as bare } from "@playwright/test";
import { begin, expect, follow, logbook, mouse, seconds, start, test } from "./conductor";

/** The files that were asked for, without the hashes in their names; not what the browser fetches ahead. */
function asked(page: Page) {
  const files: string[] = [];
  page.on("request", (request) => {
    const file = new URL(request.url()).pathname.slice(1).replace(/-[0-9a-f]{16}/, "");
    if (/\.(wasm|json)$/.test(file) && request.headers()["sec-purpose"] !== "prefetch") files.push(file);
  });
  return files;
}

/** Holds the files of a module back until it is let go. */
async function hold(page: Page, module: string) {
  let release = () => {};
  const held = new Promise<void>((done) => (release = done));
  await page.route(new RegExp(`/${module}-[0-9a-f]+\\.wasm`), async (route: Route) => {
    await held;
    await route.continue();
  });
  return () => release();
}

const focused = (page: Page) => page.evaluate(() => document.activeElement?.id ?? "");

test("a screen brings its own module, once, and nothing that is there already", async ({ page }) => {
  const files = asked(page);
  await start(page);
  expect(files.filter((file) => file.endsWith(".wasm") && file !== "run.wasm")).toEqual(["start.wasm"]);
  await page.click('nav a[href="#/about"]');
  await expect(page.locator("#heading")).toHaveText("What this is, and what it is not");
  await page.click(".mark");
  await page.click("#begin-grinding-shop");
  await expect(page.locator("#squeeze")).toBeVisible();
  await page.click(".mark");
  await page.click(".kept .way");
  await expect(page.locator("#squeeze")).toBeVisible();
  await page.click(".mark");
  await page.click("#to-drills");
  await expect(page.locator("#drill-title")).toBeVisible();
  const once = [...new Set(files)].sort();
  expect(once).toEqual(["more/en.json", "offered.json", "practice.wasm", "run.wasm", "scenarios.json", "start.wasm", "words/en.json"]);
  // What was fetched ahead is asked for once more, and comes from the browser's own cache.
  expect(files.filter((file) => file !== "run.wasm").sort()).toEqual(once.filter((file) => file !== "run.wasm"));
});

test("a page that is opened at a run brings that module, the start, and no other", async ({ page }) => {
  await begin(page, "grinding-shop");
  await page.click("#act-ask-clearance-");
  const files = asked(page);
  await page.reload();
  await expect(page.locator(".logbook li.did")).toHaveCount(1);
  // Long enough for the browser to complain of what came and is not used.
  await page.waitForTimeout(4_000);
  expect([...new Set(files)].sort()).toEqual(["more/en.json", "run.wasm", "start.wasm", "words/en.json"]);
});

test("the heading has the focus after a change of module, and not when the page is opened", async ({ page }) => {
  await start(page);
  expect(await focused(page)).toBe("");
  await page.click("#to-questions");
  await expect(page.locator("h1#heading")).toContainText("Questions");
  await expect(page.locator("#heading")).toBeFocused();
  await page.click(".mark");
  await expect(page.locator("#begin-grinding-shop")).toBeVisible();
  await expect(page.locator("#heading")).toBeFocused();
  await page.goBack();
  await expect(page.locator("h1#heading")).toContainText("Questions");
  await expect(page.locator("#heading")).toBeFocused();
});

test("until the next module has come, what shows stays and can be gone back to", async ({ page }) => {
  const release = await hold(page, "practice");
  await start(page);
  await page.click("#to-questions");
  await expect(page.locator("#app")).toHaveAttribute("aria-busy", "true");
  await expect(page.locator("#begin-grinding-shop")).toBeVisible();
  // Second thoughts: back, and what comes late changes nothing.
  await page.goBack();
  await expect(page.locator("#app")).not.toHaveAttribute("aria-busy");
  release();
  await page.waitForTimeout(500);
  await expect(page.locator("#begin-grinding-shop")).toBeVisible();
  await page.goForward();
  await expect(page.locator("h1#heading")).toContainText("Questions");
  await expect(page.locator("#app")).toHaveCount(1);
});

test("a run begins when its screen has come, not while that is on its way", async ({ page }) => {
  const release = await hold(page, "run");
  await start(page);
  await page.selectOption("#choose-pace", "real");
  await page.click("#begin-grinding-shop");
  await page.waitForTimeout(3_000);
  release();
  await expect(page.locator("#squeeze")).toBeVisible();
  expect(await seconds(page)).toBeLessThan(2);
  await expect(page.locator(".notice")).toHaveCount(0);
  // It goes on by itself.
  await expect.poll(() => seconds(page)).toBeGreaterThan(1);
});

bare("a module that does not come is said, what shows lives on, and nothing is lost", async ({ page }) => {
  // Kept nowhere but here.
  await page.addInitScript(() => Object.defineProperty(window, "indexedDB", { value: undefined }));
  await begin(page, "sawmill");
  await follow(page, mouse(page));
  const before = await logbook(page);
  let there = false;
  await page.route(/\/review-[0-9a-f]+\.wasm/, (route) => (there ? route.continue() : route.abort()));
  await page.click("#to-review");
  const panel = page.locator("#failure");
  await expect(panel).toContainText("This part of the page did not open");
  await expect(panel.getByRole("heading")).toBeFocused();
  await expect(page.locator("#app")).not.toHaveAttribute("inert");
  expect(await logbook(page)).toEqual(before);
  there = true;
  await panel.getByRole("button", { name: "Try again" }).click();
  await expect(page.locator(".review")).toBeVisible();
  await expect(panel).toHaveCount(0);
  // And back in the room it is still the same run.
  await page.goBack();
  await expect(page.locator("#to-review")).toBeVisible();
  expect(await logbook(page)).toEqual(before);
});

test("the first screens have all their words, and fetch no others", async ({ page }) => {
  const files: string[] = [];
  page.on("request", (request) => files.push(new URL(request.url()).pathname));
  // A key without a text shows itself.
  const keys = () =>
    page.evaluate(() => (document.querySelector("#app")!.innerHTML.match(/[>"](ui|skill|scenario|agent|help|pace|fault)\.[a-z0-9_.-]+/g) ?? []));
  for (const language of ["en", "es"]) {
    for (const [address, last] of [["", ".home .cautions"], ["#/about", ".cautions"], ["#/nothing-here", "main > p"]]) {
      await page.goto(`./?lang=${language}${address}`);
      await expect(page.locator(last).first()).toBeVisible();
      expect(await keys(), `${language} ${address}`).toEqual([]);
    }
  }
  expect(files.filter((file) => /\/more\//.test(file))).toEqual([]);
});

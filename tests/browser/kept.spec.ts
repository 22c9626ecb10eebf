// Nothing is lost: reload, kill, a store that is not there.
import { appendFileSync, mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { type BrowserContext, type Page, chromium } from "@playwright/test";
import { begin, cut, expect, follow, logbook, mouse, open, seconds, start, test } from "./conductor";
import { settled } from "./store";

test("a reload comes back to where one was", async ({ page }) => {
  await begin(page, "grinding-shop", "guided", "real");
  for (let acts = 0; acts < 6; acts++) {
    await page.click("#guide-act");
    await page.keyboard.press("Enter");
  }
  await page.waitForTimeout(1_500);
  const before = await logbook(page);
  const clock = await seconds(page);
  await page.reload();
  await expect(page.locator(".notice")).toContainText("Here is where you were");
  expect(await logbook(page)).toEqual(before);
  expect(await seconds(page)).toBeGreaterThanOrEqual(clock - 1);
  // And it is listed at the start, to go on with or to forget.
  await page.click(".mark");
  await expect(page.locator(".kept li")).toHaveCount(1);
});

/** A browser with a profile that outlives it. */
const launch = (profile: string, baseURL: string) =>
  chromium.launchPersistentContext(profile, {
    executablePath: process.env.CHROMIUM,
    baseURL,
    args: ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking", "--disable-component-update", "--disable-sync"],
  });

/** Kills all of it at once. */
async function kill(context: BrowserContext, page: Page) {
  const session = await context.newCDPSession(page);
  const { processInfo } = await (await context.browser()?.newBrowserCDPSession() ?? session).send("SystemInfo.getProcessInfo" as never) as { processInfo: { id: number; type: string }[] };
  expect(processInfo.map(({ type }) => type)).toEqual(expect.arrayContaining(["browser", "renderer"]));
  for (const { id } of processInfo) process.kill(id, "SIGKILL");
  await context.close().catch(() => {});
}

test("killed at a random moment, it comes back with every act but those of the last second", async ({ baseURL }) => {
  const rounds = Number(process.env.BITTERSWEET_KILLS ?? (process.env.BITTERSWEET_ALL ? 100 : 10));
  test.setTimeout(60_000 + rounds * 18_000);
  const profile = mkdtempSync(join(tmpdir(), "bittersweet-"));
  let done = 0;
  let address = "";
  for (let round = 0; round < rounds; round++) {
    const context = await launch(profile, baseURL!);
    const page = context.pages()[0] ?? (await context.newPage());
    if (address) {
      await page.goto(address);
      await expect(page.locator("#squeeze")).toBeVisible({ timeout: 20_000 });
      const back = await page.locator(".logbook li.did").count();
      expect(back, `round ${round}: of ${done} acts`).toBeGreaterThanOrEqual(done);
    } else {
      await begin(page, "grinding-shop", "unaided", "real");
      address = page.url();
    }
    const stop = Date.now() + 900 + Math.random() * 2_200;
    const times: number[] = [];
    const already = await page.locator(".logbook li.did").count();
    await page.click('.phases button:has-text("Briefing")');
    while (Date.now() < stop) {
      await page.click(times.length % 2 ? "#act-agree-signals-" : "#act-hear-back-");
      times.push(Date.now());
      await page.waitForTimeout(Math.random() * 90);
    }
    const killed = Date.now();
    await kill(context, page);
    done = already + times.filter((at) => at < killed - 1_000).length;
  }
  rmSync(profile, { recursive: true, force: true });
  const figures = process.env.BITTERSWEET_FIGURES;
  if (figures) appendFileSync(figures, `browser killed and come back from: ${rounds}\n`);
});

test("killed after a run was ended and a question answered, progress tells of both", async ({ baseURL }) => {
  test.setTimeout(60_000);
  const profile = mkdtempSync(join(tmpdir(), "bittersweet-"));
  const first = await launch(profile, baseURL!);
  const page = first.pages()[0] ?? (await first.newPage());
  await begin(page, "grinding-shop", "unaided", "real");
  await page.click('.phases button:has-text("Afterward")');
  await page.click("#act-finish-");
  await expect(page.locator("#to-review")).toBeFocused();
  await page.goto("./#/drills");
  await page.locator("#named-0").check();
  if (await page.locator("#next-0").count()) await page.locator("#next-0").check();
  await page.click("#give");
  await expect(page.locator("#verdict")).toBeVisible();
  await page.waitForTimeout(1_000);
  await kill(first, page);
  const second = await launch(profile, baseURL!);
  const again = second.pages()[0] ?? (await second.newPage());
  await again.goto("./#/progress");
  await expect(again.locator(".ended > li")).toHaveCount(1);
  await expect(again.locator("#practised")).toBeVisible();
  await again.goto("./#/refresh");
  await expect(again.locator("#come-back")).toContainText("To refresh then: 1");
  await second.close();
  rmSync(profile, { recursive: true, force: true });
});

const NO_STORE: Record<string, () => void> = {
  "is forbidden": () => Object.defineProperty(window, "indexedDB", { get: () => { throw new DOMException("no", "SecurityError"); } }),
  "is not there": () => Object.defineProperty(window, "indexedDB", { value: undefined }),
  "is full": () => { IDBObjectStore.prototype.put = () => { throw new DOMException("no", "QuotaExceededError"); }; },
};

for (const [how, script] of Object.entries(NO_STORE)) {
  test(`where the store ${how}, the run goes on, says so, and can be saved`, async ({ page }) => {
    await page.addInitScript(script);
    await begin(page, "sawmill");
    await expect(page.locator(".notice").first()).toContainText("Nothing can be kept");
    // The start has the way back to it, since it is not listed there.
    await page.click("#act-ask-clearance-");
    await page.click(".mark");
    await page.click(".home > .notice ~ p > .way");
    await expect(page.locator(".logbook li.did")).toHaveCount(1);
    await page.focus("#heading");
    await follow(page, mouse(page));
    await page.click("#to-review");
    const download = page.waitForEvent("download");
    await page.click("#save-run");
    await download;
  });
}

test("a store that a newer version made is left alone: the run goes on, and it is said", async ({ page }) => {
  await page.goto("about:blank");
  await page.route("**/empty", (route) => route.fulfill({ contentType: "text/html", body: "" }));
  await page.goto("empty");
  const version = () =>
    page.evaluate(
      (version) =>
        new Promise<number>((done) => {
          const request = version ? indexedDB.open("bittersweet:/", version) : indexedDB.open("bittersweet:/");
          request.onsuccess = () => {
            done(request.result.version);
            request.result.close();
          };
        }),
      page.url().endsWith("empty") ? 99 : 0,
    );
  expect(await version()).toBe(99);
  await begin(page, "sawmill");
  await expect(page.locator(".notice").first()).toContainText("Nothing can be kept");
  await page.click("#act-ask-clearance-");
  await expect(page.locator(".logbook li.did")).toHaveCount(1);
  expect(await version()).toBe(99);
});

test("a change of pace in a file that was opened comes back too", async ({ page }) => {
  const run = JSON.parse(cut("grinding-shop", 40));
  run.paces.push({ at: run.acts[20].at, pace: "double" });
  await start(page);
  await open(page, JSON.stringify(run));
  await expect(page.locator("#squeeze")).toBeVisible();
  const before = await logbook(page);
  await page.reload();
  await expect(page.locator(".pace select")).toHaveValue("double");
  expect(await logbook(page)).toEqual(before);
});

test("a kept run that is damaged is said with its place, and the others go on", async ({ page }) => {
  await begin(page, "bakery");
  await page.click("#act-ask-clearance-");
  const damaged = page.url();
  await settled(page);
  await begin(page, "sawmill");
  await page.click("#act-ask-clearance-");
  const sound = page.url();
  await settled(page);
  await page.evaluate(async (run) => {
    const database = await new Promise<IDBDatabase>((done, failed) => {
      const request = indexedDB.open("bittersweet:/");
      request.onsuccess = () => done(request.result);
      request.onerror = () => failed(request.error);
    });
    await new Promise((done) => {
      const writing = database.transaction("acts", "readwrite");
      writing.objectStore("acts").put({ run, n: 1, json: '{"at":1,"act":"dance"}' });
      writing.oncomplete = done;
    });
    database.close();
  }, damaged.split("/").pop()!);
  await page.goto(damaged);
  await expect(page.getByRole("status")).toContainText("cannot be read");
  await expect(page.getByRole("status")).toContainText("acts[0].act");
  await page.goto(sound);
  await expect(page.locator(".logbook li.did")).toHaveCount(1);
});

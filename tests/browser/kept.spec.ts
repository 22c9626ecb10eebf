// Nothing is lost: reload, kill, a store that is not there.
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { chromium } from "@playwright/test";
import { begin, byMouse, expect, follow, logbook, test } from "./conductor";

test("a reload comes back to where one was", async ({ page }) => {
  await begin(page, "grinding-shop", "guided", "real");
  for (let acts = 0; acts < 6; acts++) {
    await page.click("#guide-act");
    await page.keyboard.press("Enter");
  }
  await page.waitForTimeout(1_500);
  const before = await logbook(page);
  const seconds = async () => {
    const [minutes, rest] = (await page.locator(".clock [role=timer]").first().innerText()).split(":").map(Number);
    return minutes * 60 + rest;
  };
  const clock = await seconds();
  await page.reload();
  await expect(page.locator(".notice")).toContainText("Here is where you were");
  expect(await logbook(page)).toEqual(before);
  expect(await seconds()).toBeGreaterThanOrEqual(clock - 1);
  // And it is listed at the start, to go on with or to forget.
  await page.click(".mark");
  await expect(page.locator(".kept li")).toHaveCount(1);
});

test("killed at a random moment, it comes back with every act but those of the last second", async ({ baseURL }) => {
  test.setTimeout(240_000);
  const rounds = Number(process.env.BITTERSWEET_KILLS ?? (process.env.BITTERSWEET_ALL ? 100 : 10));
  const profile = mkdtempSync(join(tmpdir(), "bittersweet-"));
  let done = 0;
  let address = "";
  for (let round = 0; round < rounds; round++) {
    const context = await chromium.launchPersistentContext(profile, {
      executablePath: process.env.CHROMIUM,
      baseURL,
      args: ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking", "--disable-component-update", "--disable-sync"],
    });
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
    const session = await context.newCDPSession(page);
    const { processInfo } = await (await context.browser()?.newBrowserCDPSession() ?? session).send("SystemInfo.getProcessInfo" as never) as { processInfo: { id: number; type: string }[] };
    for (const { id } of processInfo) process.kill(id, "SIGKILL");
    await context.close().catch(() => {});
    done = already + times.filter((at) => at < killed - 1_000).length;
  }
  rmSync(profile, { recursive: true, force: true });
});

test("without a store the run goes on, says so, and can be saved", async ({ page }) => {
  await page.addInitScript(() => Object.defineProperty(window, "indexedDB", { get: () => { throw new DOMException("no", "SecurityError"); } }));
  await begin(page, "sawmill");
  await expect(page.locator(".notice").first()).toContainText("Nothing can be kept");
  await follow(page, byMouse(page));
  await page.click("#to-review");
  const download = page.waitForEvent("download");
  await page.click("#save-run");
  await download;
});

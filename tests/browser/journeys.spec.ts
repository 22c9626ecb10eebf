// Whole runs from the first screen to the review, and time as the trainee sets it.
import { type Page } from "@playwright/test";
import { type Hand, begin, expect, follow, logbook, mouse, reach, seconds, shortcuts, tabbing, test } from "./conductor";

test.describe.configure({ timeout: 240_000 });

/** By key alone from the first screen to the review. */
async function byKey(page: Page, id: string, hand: Hand, prepare = async () => {}) {
  await begin(page, id, "guided", "stepped", hand);
  await expect(page.locator("#heading")).toBeFocused();
  await prepare();
  await follow(page, hand);
  await hand.press("#to-review");
  await expect(page.locator("#heading")).toBeFocused();
  await expect(page.locator(".review")).toContainText("Nothing found");
  await expect(page.locator("td.right")).toHaveCount(1);
  await expect(page.locator(".review tbody tr").first()).toContainText("pass");
}

test("a whole sweet test by keyboard alone, with the shortcuts", ({ page }) => byKey(page, "grinding-shop", shortcuts(page)));

test("a whole bitter test by keyboard alone, its first part with the shortcuts switched off", ({ page }) =>
  byKey(page, "tunnel-crew", shortcuts(page), async () => {
    await reach(page, "#shortcut");
    await page.keyboard.press("Space");
    await follow(page, tabbing(page), (lines) => lines > 24);
    await reach(page, "#shortcut");
    await page.keyboard.press("Space");
  }));

test("a fail, another facepiece and a pass, by mouse", async ({ page }) => {
  await begin(page, "stone-yard");
  await follow(page, mouse(page));
  await page.click("#to-review");
  const results = page.locator("section[aria-labelledby=results-title] tbody tr");
  await expect(results).toHaveText([/fail/i, /pass/i]);
  await expect(page.locator("td.right")).toHaveCount(2);
  await expect(page.locator(".review")).toContainText("Nothing found");
});

test("the bulb takes its time, and a held key is one squeeze", async ({ page }) => {
  await begin(page, "grinding-shop", "unaided", "real");
  await page.click('.phases button:has-text("Taste screening")');
  await page.click("#act-take-check");
  await page.keyboard.press("s");
  await page.keyboard.press("s");
  await expect(page.locator(".heard")).toContainText("A short puff");
  const squeezes = () => page.evaluate(() => document.querySelectorAll(".logbook li.did").length);
  const before = await squeezes();
  await page.waitForTimeout(600);
  // The operating system repeats a held key; the page does not.
  for (let repeats = 0; repeats < 8; repeats++) await page.keyboard.down("s");
  await page.keyboard.up("s");
  expect((await logbook(page))[0]).not.toContain("short puff");
  expect(await squeezes()).toBe(before + 1);
  // Unaided, nobody counts for the trainee.
  expect((await logbook(page)).join(" ")).not.toMatch(/Squeeze, \d/);
});

test("a held key is one act, on every button", async ({ page }) => {
  await begin(page, "grinding-shop");
  for (const id of ["act-ask-clearance-", "wait", "stop"]) {
    const before = await page.locator(".logbook li.did").count();
    await reach(page, `#${id}`);
    for (let repeats = 0; repeats < 5; repeats++) await page.keyboard.down("Enter");
    await page.keyboard.up("Enter");
    expect((await page.locator(".logbook li.did").count()) - before, id).toBeLessThanOrEqual(1);
  }
});

test("time runs at the chosen pace, and stands still when told to or when nobody looks", async ({ page }) => {
  await page.clock.install();
  await begin(page, "grinding-shop", "unaided", "real");
  await page.clock.runFor(10_000);
  expect(await seconds(page)).toBe(10);
  await page.getByRole("button", { name: "Pause" }).click();
  await page.clock.runFor(5_000);
  expect(await seconds(page)).toBe(10);
  await page.getByRole("button", { name: "Go on" }).click();
  await page.locator(".pace select").selectOption("fourfold");
  // A little more than ten seconds: the last beat may come just before they are over.
  await page.clock.runFor(10_100);
  expect(await seconds(page)).toBe(50);
  await page.clock.fastForward(60_000);
  await expect(page.locator(".notice")).toContainText("while you were away");
  expect(await seconds(page)).toBe(50);
  // Thinking long in stepped mode is not being away.
  await page.locator(".pace select").selectOption("stepped");
  await page.getByRole("button", { name: "Who and what" }).click();
  await page.click("#act-ask-clearance-");
  await page.clock.runFor(30_000);
  await page.locator(".pace select").selectOption("real");
  await expect(page.locator(".notice")).toHaveCount(0);
});

// Watching a colleague: by keyboard alone, kept over a reload, and laid beside the review.
import { type Page } from "@playwright/test";
import { clean } from "./axe";
import { expect, logbook, reach, seconds, start, test } from "./conductor";

async function watch(page: Page, id: string) {
  await start(page);
  await page.click(`#watch-${id}`);
  await expect(page.locator("#wrong")).toBeVisible();
}

/** Goes on until the latest line or the latest act in the logbook fits, or the run is over. */
async function until(page: Page, fits: RegExp | null) {
  const look = () =>
    page.evaluate(() => ({
      over: !!document.querySelector("#to-compare"),
      latest: [".logbook li", ".logbook li.did"].map((line) => document.querySelector(line)?.textContent ?? ""),
    }));
  for (let steps = 0; steps < 400; steps++) {
    const { over, latest } = await look();
    if (fits && latest.some((line) => fits.test(line))) return;
    if (over) {
      expect(fits, "the run ended before").toBeNull();
      return;
    }
    await page.keyboard.press("n");
  }
  throw new Error(`never came: ${fits}`);
}

const focused = (page: Page) => page.evaluate(() => document.activeElement?.id ?? "");

/** Says that something is wrong and names it, by key alone. */
async function mark(page: Page, name: string) {
  await page.keyboard.press("w");
  await expect(page.locator("#slip")).toBeFocused();
  await page.keyboard.type(name);
  await reach(page, "#mark-it");
  await page.keyboard.press("Enter");
  await expect(page.locator("#wrong")).toBeFocused();
}

test("a run is watched, marked and compared by keyboard alone", async ({ page }) => {
  test.setTimeout(120_000);
  await start(page);
  await reach(page, "#watch-joinery");
  await page.keyboard.press("Enter");
  await expect(page.locator("#heading")).toBeFocused();
  expect(await seconds(page)).toBe(0);
  await until(page, /One cough/);
  await mark(page, "Too much made");
  // Second thoughts: it is taken back, and the focus stays in the list.
  await reach(page, ".marks button");
  await page.keyboard.press("Enter");
  await expect(page.locator(".marks li")).toHaveCount(0);
  expect(await focused(page)).toBe("marks-title");
  await mark(page, "Distress");
  await until(page, /edge of the facepiece/);
  await mark(page, "Facepiece touched");
  await expect(page.locator(".marks li")).toHaveCount(2);
  await until(page, null);
  await expect(page.locator("#to-compare")).toBeFocused();
  // After the last act one can still say what is missing, and think better of it.
  await page.keyboard.press("w");
  await expect(page.locator("#slip")).toBeFocused();
  await reach(page, "#never-mind");
  await page.keyboard.press("Enter");
  await expect(page.locator("#wrong")).toBeFocused();
  await expect(page.locator(".marks li")).toHaveCount(2);
  await reach(page, "#to-compare");
  await page.keyboard.press("Enter");
  await expect(page.locator("#heading")).toBeFocused();
  await expect(page.locator("#sum")).toHaveText("You found 1 of 2 things that went wrong in your colleague's run.");
  await expect(page.locator("#found")).toContainText("Facepiece touched or adjusted");
  await expect(page.locator("#missed .finding")).toHaveAttribute("data-rule", "fit.top_up");
  await expect(page.locator("#missed")).toContainText("App. A I.B.3(b)(9)");
  // What happened stands under the name of what was missed.
  await expect(page.locator("#missed h3 + .findings h3")).toContainText("none given");
  await expect(page.locator("#no-fault")).toContainText("One cough");
  await expect(page.locator("#as-well")).toHaveCount(0);
  await reach(page, ".whole-review summary");
  await page.keyboard.press("Enter");
  await expect(page.locator(".whole-review")).toContainText("Right would have been");
  await expect(page.locator(".whole-review")).toContainText("about your colleague");
  await reach(page, ".whole-log summary");
  await page.keyboard.press("Enter");
  await expect(page.locator(".whole-log")).toContainText("You marked: Facepiece touched");
  // And then the same wearer, oneself.
  await reach(page, "#run-it");
  await page.keyboard.press("Enter");
  await expect(page.locator("#squeeze")).toBeVisible();
  await expect(page.locator(".logbook li")).toHaveCount(0);
});

test("where nothing goes wrong there is nothing to find, and the page says so", async ({ page }) => {
  await watch(page, "brickworks");
  await until(page, null);
  await page.click("#to-compare");
  await expect(page.locator("#sum")).toContainText("Nothing that matters went wrong");
  for (const part of ["found", "missed", "no-fault", "as-well"]) await expect(page.locator(`#${part}`)).toHaveCount(0);
});

test("the loud button is the one that goes on, until there is nothing to go on with", async ({ page }) => {
  await watch(page, "brickworks");
  await expect(page.locator("#play")).toHaveClass("main");
  await page.click("#play");
  await expect(page.locator("#play")).not.toHaveClass("main");
  await page.click("#play");
  await page.goto(page.url().replace("watch/", "compare/"));
  await expect(page.locator("#run-it")).not.toHaveClass("main");
  await page.click("#watch-on.main");
  await expect(page.locator("#wrong")).toBeVisible();
  await until(page, null);
  await page.click("#to-compare");
  await expect(page.locator("#watch-on")).toHaveCount(0);
  await expect(page.locator("#run-it")).toHaveClass("main");
});

test("time goes on when it is let, and stands still while something is named or nobody looks", async ({ page }) => {
  await page.clock.install();
  await watch(page, "dairy");
  await page.clock.runFor(5_000);
  expect(await seconds(page)).toBe(0);
  // To the second: a beat of the page is a tenth of one, and four at this pace.
  const passes = async (wall: number, simulated: number) => {
    const before = await seconds(page);
    await page.clock.runFor(wall);
    expect(Math.abs((await seconds(page)) - before - simulated)).toBeLessThanOrEqual(1);
  };
  await page.click("#play");
  await passes(7_000, 7);
  expect((await logbook(page)).length).toBeGreaterThanOrEqual(3);
  await page.selectOption(".pace select", "fourfold");
  await passes(5_000, 20);
  await page.click("#wrong");
  const moment = await seconds(page);
  await page.clock.runFor(20_000);
  expect(await seconds(page)).toBe(moment);
  await page.selectOption("#slip", "gear");
  await page.click("#mark-it");
  await expect(page.locator(".marks li")).toContainText(`0:${moment}`);
  await passes(1_000, 4);
  await page.clock.fastForward(60_000);
  await expect(page.locator(".notice")).toContainText("while you were away");
  await passes(5_000, 0);
});

test("a reload comes back to the moment and to the marks", async ({ page }) => {
  await watch(page, "plating-shop");
  await until(page, /you can taste that/);
  await mark(page, "A leading question");
  await until(page, /Note the threshold/);
  await mark(page, "Threshold wrongly");
  await page.locator(".marks button").first().click();
  const before = await logbook(page);
  const clock = await seconds(page);
  await page.waitForTimeout(500);
  await page.reload();
  await expect(page.locator(".notice")).toContainText("Here is where you were");
  expect(await logbook(page)).toEqual(before);
  expect(await seconds(page)).toBeGreaterThanOrEqual(clock - 1);
  await expect(page.locator(".marks li")).toHaveCount(1);
  await expect(page.locator(".marks li")).toContainText("Threshold wrongly");
  // It is listed at the start, to go on with or to forget.
  await page.click(".mark");
  await expect(page.locator(".kept li")).toHaveCount(1);
  await expect(page.locator(".kept li")).toContainText("Watching a colleague: Sunita");
  await page.click(".kept li a");
  await expect(page.locator(".marks li")).toHaveCount(1);
  await page.click(".mark");
  // What cannot be undone is asked for twice.
  await page.click(".kept li button");
  await page.click(".kept li button");
  await expect(page.locator(".kept")).toHaveCount(0);
});

test("where nothing can be kept, watching goes on and the page says so", async ({ page }) => {
  await page.addInitScript(() => Object.defineProperty(window, "indexedDB", { value: undefined }));
  await watch(page, "shipyard");
  await expect(page.locator(".notice")).toContainText("Nothing can be kept");
  await until(page, /Look at the face|Look where the seal/);
  await page.click("#wrong");
  await page.selectOption("#slip", "seal-place");
  await page.click("#mark-it");
  await page.click(".mark");
  await page.click('.home .way:has-text("Watching a colleague")');
  await expect(page.locator(".marks li")).toHaveCount(1);
});

for (const [scheme, width] of [["light", 1280], ["light", 360], ["dark", 1280], ["dark", 360]] as const) {
  test(`axe finds nothing where a colleague is watched, ${scheme}, ${width} px`, async ({ page }) => {
    test.setTimeout(120_000);
    await page.emulateMedia({ colorScheme: scheme });
    await page.setViewportSize({ width, height: 800 });
    await watch(page, "joinery");
    await clean(page, "before the beginning");
    await until(page, /Facepiece touched|edge of the facepiece/);
    await page.click("#wrong");
    await clean(page, "naming");
    await page.selectOption("#slip", "mask-moved");
    await page.click("#mark-it");
    await page.click("#wrong");
    await page.selectOption("#slip", "privacy");
    await page.click("#mark-it");
    await clean(page, "marked");
    await until(page, null);
    await clean(page, "the end");
    await page.click("#to-compare");
    await page.evaluate(() => document.querySelectorAll("details").forEach((one) => (one.open = true)));
    await clean(page, "the comparison, unfolded");
    await expect(page.getByRole("status")).toHaveCount(0);
  });
}

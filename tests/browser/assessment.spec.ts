// Assessments, sat by keyboard and by mouse: one is passed, one fails by an error that was left standing; a crash gains no time.
import { type Page } from "@playwright/test";
import { clean } from "./axe";
import { type Candidate, answer, close, drills, kept, questions, result, run, seen, sit, stays } from "./candidate";
import { type Hand, expect, mouse, reach, start, tabbing, test } from "./conductor";

/** Sets the terms of one, and begins. */
async function begin(page: Page, hand: Hand = mouse(page), ...terms: [pace?: string, limit?: string]): Promise<Candidate> {
  const candidate = seen(page, hand);
  await start(page);
  await sit(candidate, ...terms);
  return candidate;
}

test("an assessment is passed, by keyboard", async ({ page }) => {
  test.setTimeout(300_000);
  const candidate = await begin(page, { ...tabbing(page), squeeze: () => page.keyboard.press("s") });
  await clean(page, "an assessment that has begun");
  await answer(candidate);
  await result(candidate, true);
  await clean(page, "an assessment that was passed");
  await expect(page.locator("tbody tr").first()).toContainText("18 of 18");
  // Reckoned by statsmodels: proportion_confint(18, 18, method="wilson") is 0.824 to 1.
  await expect(page.locator("tbody tr").first()).toContainText("82 to 100");
  // It tells the same after a reload.
  await page.reload();
  await result(candidate, true);
  await stays(candidate);
});

test("an assessment fails by one error that was left standing, by mouse", async ({ page }) => {
  test.setTimeout(240_000);
  const candidate = await begin(page);
  for (const [place, acts] of kept.runs.entries()) await run(candidate, place === kept.quiet ? kept.spoilt : acts);
  await drills(candidate);
  await questions(candidate);
  await result(candidate, false);
  await expect(page.locator(".reasons li")).toHaveCount(1);
  await expect(page.locator(".reasons")).toContainText(`Run ${kept.quiet + 1}`);
  await expect(page.locator("tbody tr").first()).toContainText("18 of 18");
  await page.locator(".kept a").nth(kept.quiet).click();
  await expect(page.locator(".findings .finding").first()).toBeVisible();
});

test("the review of a run waits for the end of its assessment", async ({ page }) => {
  const candidate = await begin(page);
  await page.click("#begin-run");
  await expect(page.locator("#squeeze")).toBeVisible();
  const id = new URL(page.url()).hash.split("/").pop();
  await page.goto(`./#/review/${id}`);
  await expect(page.locator("#main")).toContainText("waits until its assessment is over");
  await page.getByRole("link", { name: "Back to the assessment" }).click();
  await close(candidate);
  await expect(page.locator(".reasons")).toContainText("Not done: 21");
  await page.goto(`./#/review/${id}`);
  await expect(page.locator(".review")).toBeVisible();
});

test("a run that is forgotten is not begun again: the assessment is over", async ({ page }) => {
  await begin(page);
  const address = page.url();
  await page.click("#begin-run");
  await expect(page.locator("#squeeze")).toBeVisible();
  await page.click(".mark");
  await page.click(".kept li button");
  await page.click(".kept li button");
  await expect(page.locator(".kept")).toHaveCount(0);
  await page.goto(address);
  await expect(page.locator("#result")).toHaveAttribute("data-passed", "false");
  await expect(page.locator("#begin-run")).toHaveCount(0);
});

test("no time is gained by closing the page", async ({ page, context }) => {
  await begin(page, mouse(page), "real", "usual");
  await page.click("#begin-run");
  await expect(page.locator("#squeeze")).toBeVisible();
  await page.waitForTimeout(1_500);
  const address = page.url();
  await page.close();
  await new Promise((done) => setTimeout(done, 6_000));
  const again = await context.newPage();
  await again.goto(address);
  await expect(again.locator("#squeeze")).toBeVisible();
  const [minutes, rest] = (await again.getByRole("timer").first().innerText()).split(":").map(Number);
  expect(minutes * 60 + rest).toBeGreaterThanOrEqual(6);
  await expect(again.locator(".notice")).toHaveCount(0);
});

for (const width of [320, 360]) {
  test(`the terms fit ${width} px, in Spanish too`, async ({ page }) => {
    await page.setViewportSize({ width, height: 700 });
    for (const language of ["en", "es"]) {
      await page.goto(`./?lang=${language}#/assessment`);
      await expect(page.locator("#begin")).toBeEnabled();
      expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(width);
      await clean(page, `the terms, ${language}, ${width} px`);
    }
  });
}

for (const by of ["keyboard", "mouse"]) test(`what has faded comes back after a month, and the sitting says when to return, by ${by}`, async ({ page }) => {
  const press = async (selector: string) => {
    if (by === "mouse") return page.click(selector);
    await reach(page, selector);
    await page.keyboard.press("Enter");
  };
  await page.clock.install({ time: new Date("2026-03-02T09:00:00") });
  await start(page);
  await page.goto("./#/refresh");
  await expect(page.locator("#nothing-due")).toContainText("nothing to refresh yet");
  await clean(page, "nothing to refresh");
  // Two questions and a drill are answered, whatever they come to.
  await page.goto("./#/questions");
  for (let turn = 0; turn < 2; turn++) {
    await expect(page.locator("#give")).toBeVisible();
    await page.selectOption("#which", "watching");
    await expect(page.locator("#question-title")).toContainText("Watching");
    await page.keyboard.press("1");
    await page.click("#give");
    await page.click("#next-question");
  }
  await page.goto("./#/drills");
  await page.locator("#named-0").check();
  if (await page.locator("#next-0").count()) await page.locator("#next-0").check();
  await page.click("#give");
  await page.goto("./#/refresh");
  await expect(page.locator("#come-back")).toContainText("March");
  await page.clock.setFixedTime(new Date("2026-04-02T09:00:00"));
  await page.reload();
  await expect(page.locator("#due")).toContainText("Ready to refresh: 3");
  await press("#begin");
  for (let turn = 0; turn < 6 && (await page.locator("#refreshed").count()) === 0; turn++) {
    await expect(page.locator("#question-title, #drill-title")).toBeFocused();
    if (by === "keyboard") {
      await page.keyboard.press("1");
      if (await page.locator("#next-0").count()) await page.keyboard.press("1");
    } else {
      await page.locator("#option-0, #named-0").first().check();
      if (await page.locator("#next-0").count()) await page.locator("#next-0").check();
    }
    await press("#give");
    await expect(page.locator("#next-question, #next-drill")).toBeFocused();
    await press("#next-question, #next-drill");
    await expect(page.locator("#verdict")).toHaveCount(0);
  }
  await expect(page.locator("#refreshed")).toBeFocused();
  await expect(page.locator("#come-back")).toContainText(/Come back on .*(April|May|June|July)/);
  await clean(page, "a sitting that is over");
  await page.reload();
  await expect(page.locator("#nothing-due")).toBeVisible();
});

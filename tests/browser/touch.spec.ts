// By tap alone on a telephone: a rehearsal, a drill and an assessment.
import { answer, result, seen, sit, stays } from "./candidate";
import { begin, expect, follow, start, test } from "./conductor";
import { hold, thumb } from "./thumb";

test.use({ viewport: { width: 360, height: 740 }, hasTouch: true, isMobile: true });
test.describe.configure({ timeout: 120_000 });

test("a whole test by tap alone", async ({ page }) => {
  const hand = await thumb(page);
  await begin(page, "grinding-shop", "guided", "stepped", hand);
  await follow(page, hand);
  await hand.press("#to-review");
  await expect(page.locator(".review")).toContainText("Nothing found");
  await expect(page.locator("td.right")).toHaveCount(1);
});

test("drills are named by tap alone", async ({ page }) => {
  const hand = await thumb(page);
  await start(page);
  await hand.press("#to-drills");
  for (let turn = 0; turn < 4; turn++) {
    await hand.tick("#named-1");
    if (await page.locator("#next-0").count()) await hand.tick("#next-0");
    await hand.press("#give");
    await expect(page.locator("#verdict")).toBeVisible();
    await hand.press("#next-drill");
    await expect(page.locator("#verdict")).toHaveCount(0);
  }
  await expect(page.locator("#sitting")).toContainText("4");
});

test("an assessment is passed by tap alone", async ({ page }) => {
  test.setTimeout(240_000);
  const candidate = seen(page, await thumb(page));
  await start(page);
  await sit(candidate);
  await answer(candidate);
  await result(candidate, true);
  await stays(candidate);
});

test("a thumb that rests on the bulb squeezes once, selects nothing and opens no menu", async ({ page }) => {
  const hand = await thumb(page);
  await begin(page, "grinding-shop", "guided", "stepped", hand);
  await hand.press('.phases button:has-text("Taste screening")');
  await hand.press("#act-take-check");
  await page.evaluate(() => addEventListener("contextmenu", (event) => (document.title = event.defaultPrevented ? "kept shut" : "a menu")));
  const last = page.locator(".logbook li.did").first();
  await hand.press("#squeeze");
  await expect(last).toContainText("Squeeze, 1");
  await hold(page, "#squeeze", 900);
  expect(await page.evaluate(() => getSelection()!.toString())).toBe("");
  await expect(page).not.toHaveTitle("a menu");
  await expect(last).toContainText("Squeeze, 2");
  // And not once more, after a while.
  await page.waitForTimeout(300);
  await expect(last).toContainText("Squeeze, 2");
});

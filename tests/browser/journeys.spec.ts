// Whole runs from the first screen to the review.
import { begin, byKey, byMouse, expect, follow, golden, logbook, open, reach, start, test } from "./conductor";

test.describe.configure({ timeout: 240_000 });

for (const [agent, id] of [["sweet", "grinding-shop"], ["bitter", "tunnel-crew"]]) {
  test(`a whole ${agent} test by keyboard alone`, async ({ page }) => {
    await start(page);
    await reach(page, "#choose-pace");
    await page.keyboard.type("Step");
    await reach(page, `#begin-${id}`);
    await page.keyboard.press("Enter");
    await expect(page.locator("#heading")).toBeFocused();
    await follow(page, byKey(page));
    await reach(page, "#to-review");
    await page.keyboard.press("Enter");
    await expect(page.locator("#heading")).toBeFocused();
    await expect(page.locator(".review")).toContainText("Nothing found");
    await expect(page.locator("td.right")).toHaveCount(1);
  });
}

test("a fail, another facepiece and a pass, by mouse", async ({ page }) => {
  await begin(page, "stone-yard");
  await follow(page, byMouse(page));
  await page.click("#to-review");
  await expect(page.locator(".review tbody tr").first()).toContainText("fail");
  await expect(page.locator("td.right")).toHaveCount(2);
  await expect(page.locator(".review")).toContainText("Nothing found");
});

const RESULTS: Record<string, string[]> = {
  "grinding-shop": ["pass"],
  "paint-line": ["fail", "pass"],
  bakery: ["cannot taste"],
  foundry: ["invalid", "pass"],
  sawmill: ["not tested"],
  "night-ward": ["stopped"],
  "tunnel-crew": ["pass"],
  "stone-yard": ["fail", "pass"],
  laundry: ["cannot taste"],
  "pump-house": ["invalid", "pass"],
  "records-office": ["not tested"],
  "boiler-room": ["stopped"],
};

for (const [id, results] of Object.entries(RESULTS)) {
  test(`from a saved run: ${id} comes to ${results.join(", then ")}`, async ({ page }) => {
    await start(page);
    await open(page, golden(id));
    await expect(page.locator(".review")).toBeVisible();
    const rows = page.locator("section[aria-labelledby=results-title] tbody tr");
    await expect(rows).toHaveCount(results.length);
    for (const [number, result] of results.entries()) {
      await expect(rows.nth(number).locator("td").first()).toContainText(result, { ignoreCase: true });
      await expect(rows.nth(number).locator("td.right")).toHaveCount(1);
    }
    await expect(page.locator(".review")).toContainText("Nothing found");
  });
}

test("a saved run that was left in the middle goes on to its end", async ({ page }) => {
  const run = JSON.parse(golden("foundry"));
  run.acts.length = 120;
  run.events = run.events.filter((event: { after: number }) => event.after <= 120);
  await start(page);
  await open(page, JSON.stringify(run));
  await page.locator(".pace select").selectOption("stepped");
  await follow(page, byMouse(page));
  await page.click("#to-review");
  await expect(page.locator("td.right").last()).toBeVisible();
});

test("what went wrong stands first, with source, basis and push", async ({ page }) => {
  const run = JSON.parse(golden("tunnel-crew"));
  // One squeeze fewer at the beginning of the test.
  const taken = run.acts.findIndex((act: { act: string; with: string }) => act.act === "take" && act.with === "fit");
  const squeeze = run.acts.findIndex((act: { act: string }, number: number) => number > taken && act.act === "squeeze");
  run.acts.splice(squeeze, 1);
  for (const event of run.events) if (event.after > squeeze) event.after -= 1;
  await start(page);
  await open(page, JSON.stringify(run));
  const first = page.locator(".finding").first();
  await expect(first).toHaveAttribute("data-rule", "fit.minimum");
  await expect(first).toContainText("I.B.4(b)(7)");
  await expect(first).toContainText("the rule says it");
  await expect(first).toContainText("makes a wrong pass likelier");
  await expect(page.locator("td.wrong")).toHaveCount(1);
  const download = page.waitForEvent("download");
  await page.click("#save-run");
  expect((await download).suggestedFilename()).toMatch(/^bittersweet-tunnel-crew-.*\.json$/);
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

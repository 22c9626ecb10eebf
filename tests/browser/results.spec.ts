// From saved runs: each result with each agent, a run left in the middle, and one with something wrong in it.
import { cut, expect, follow, golden, mouse, open, spoilt, start, test } from "./conductor";

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
  test(`${id} comes to ${results.join(", then ")}`, async ({ page }) => {
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

test("a run that was left in the middle goes on to its end", async ({ page }) => {
  test.setTimeout(120_000);
  await start(page);
  await open(page, cut("grinding-shop", 120));
  await expect(page.locator(".notice")).toContainText("Here is where you were");
  await page.locator(".pace select").selectOption("stepped");
  await page.focus("#heading");
  await follow(page, mouse(page));
  await page.click("#to-review");
  await expect(page.locator("td.right")).toHaveCount(1);
  await expect(page.locator(".review")).toContainText("Nothing found");
});

test("what went wrong stands first, with source, basis and push", async ({ page }) => {
  await start(page);
  await open(page, spoilt("tunnel-crew"));
  const first = page.locator(".finding").first();
  await expect(first).toHaveAttribute("data-rule", "fit.minimum");
  await expect(first).toContainText("I.B.4(b)(7)");
  await expect(first).toContainText("our reading");
  await expect(first).toContainText("makes a wrong pass likelier");
  await expect(page.locator("td.wrong")).toHaveCount(1);
  const download = page.waitForEvent("download");
  await page.click("#save-run");
  expect((await download).suggestedFilename()).toMatch(/^bittersweet-tunnel-crew-.*\.json$/);
});

test("a saved file opens again, and the run can be made again", async ({ page }) => {
  await start(page);
  await open(page, spoilt("grinding-shop"));
  const finding = await page.locator(".finding").first().innerText();
  const download = page.waitForEvent("download");
  await page.click("#save-run");
  const saved = await (await download).path();
  await start(page);
  await page.setInputFiles("#open-file", saved);
  expect(await page.locator(".finding").first().innerText()).toBe(finding);
  await page.click("#again");
  await expect(page.locator("#heading")).toBeFocused();
  await expect(page.locator(".logbook")).toContainText("Nothing done yet");
  // It is a new run that goes on, not the old one brought back, and not one that waits.
  await page.click("#act-ask-clearance-");
  await expect(page.locator(".logbook li.did")).toHaveCount(1);
  await expect(page.locator(".notice")).toHaveCount(0);
});

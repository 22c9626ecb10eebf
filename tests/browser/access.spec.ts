// Access: axe on every screen, no sideways scrolling, focus kept, one live region.
import { readFileSync } from "node:fs";
import { type Page } from "@playwright/test";
import { begin, expect, golden, open, start, test } from "./conductor";

const AXE = readFileSync(require.resolve("axe-core/axe.min.js"), "utf8");
const TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"];
const PHASES = ["Who and what", "Solutions and equipment", "Briefing", "Taste screening", "Facepiece", "Fit test", "Result", "Afterwards"];

async function clean(page: Page, where: string) {
  await page.evaluate(AXE);
  const found = await page.evaluate(async (tags) => {
    const { violations } = await (window as any).axe.run(document, { runOnly: tags });
    return violations.map((one: any) => `${one.id}: ${one.nodes.map((node: any) => node.html.slice(0, 120)).join(" | ")}`);
  }, TAGS);
  expect(found, where).toEqual([]);
  const sideways = await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
  expect(sideways, `${where}: wider than the window`).toBeLessThanOrEqual(0);
}

for (const scheme of ["light", "dark"] as const) {
  for (const width of [1280, 360, 320]) {
    test(`axe finds nothing, ${scheme}, ${width} px`, async ({ page }) => {
      test.setTimeout(120_000);
      await page.emulateMedia({ colorScheme: scheme });
      await page.setViewportSize({ width, height: 800 });
      await start(page);
      await open(page, "{}");
      await expect(page.getByRole("alert")).toContainText("not opened");
      await clean(page, "the start, with a bad file");
      await page.goto("#/about");
      await clean(page, "what this is");
      await page.goto("#/x/y");
      await clean(page, "nowhere");
      await begin(page, "tunnel-crew", width === 360 ? "unaided" : "guided");
      for (const phase of PHASES) {
        await page.click(`.phases button:has-text("${phase}")`);
        if (phase === "Taste screening") {
          await page.click("#act-hood-on-");
          await page.click("#act-take-check");
          await page.click("#squeeze");
        }
        await clean(page, phase);
      }
      await page.click(".mark");
      await clean(page, "the start, with a run kept");
      await open(page, golden("paint-line").replace('"act":"take","with":"fit"', '"act":"take","with":"check"'));
      await expect(page.locator(".review, [role=alert] li").first()).toBeVisible();
      await start(page);
      await open(page, golden("paint-line"));
      await expect(page.locator(".review")).toBeVisible();
      await page.evaluate(() => document.querySelectorAll("details").forEach((one) => (one.open = true)));
      await clean(page, "the review, unfolded");
    });
  }
}

test("the focus is never lost, and there is one live region", async ({ page }) => {
  await begin(page, "grinding-shop");
  const lost = () => page.evaluate(() => document.activeElement === document.body);
  expect(await lost()).toBe(false);
  await page.focus("#act-ask-clearance-");
  await page.keyboard.press("Enter");
  expect(await lost()).toBe(false);
  await page.click('.phases button:has-text("Taste screening")');
  await page.focus("#act-hood-off-");
  await page.keyboard.press("Enter");
  await expect(page.getByRole("status")).toHaveCount(1);
  await expect(page.getByRole("status")).not.toBeEmpty();
  expect(await lost()).toBe(false);
  await expect(page.locator("svg[role=img]")).toHaveAccessibleName(/The wearer stands/);
});

// axe on a page: nothing found, and nothing wider than the window.
import { readFileSync } from "node:fs";
import { type Page, expect } from "@playwright/test";

const AXE = readFileSync(require.resolve("axe-core/axe.min.js"), "utf8");
const TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"];

export async function clean(page: Page, where: string) {
  await page.evaluate(AXE);
  const found = await page.evaluate(async (tags) => {
    const { violations } = await (window as any).axe.run(document, { runOnly: tags });
    return violations.map((one: any) => `${one.id}: ${one.nodes.map((node: any) => node.html.slice(0, 120)).join(" | ")}`);
  }, TAGS);
  expect(found, where).toEqual([]);
  const sideways = await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
  expect(sideways, `${where}: wider than the window`).toBeLessThanOrEqual(0);
}

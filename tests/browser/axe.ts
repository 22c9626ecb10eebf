// axe on a page: nothing found, and nothing wider than the window.
import { readFileSync } from "node:fs";
import { type Page, expect } from "@playwright/test";

const AXE = readFileSync(require.resolve("axe-core/axe.min.js"), "utf8");
const TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"];

export async function clean(page: Page, where: string) {
  await page.evaluate(AXE);
  const found = await page.evaluate(async (tags) => {
    const { axe } = window as any;
    const { violations } = await axe.run(document, { runOnly: tags });
    // What sticks to an edge may lie over half of a control: how large that is counts once it has been scrolled free.
    const large = violations.find(({ id }: any) => id === "target-size");
    const small = [];
    for (const node of large?.nodes ?? []) {
      const control = document.querySelector(node.target[0])!;
      control.scrollIntoView({ block: "center" });
      const again = await axe.run(control, { runOnly: { type: "rule", values: ["target-size"] } });
      if (again.violations.length > 0) small.push(node);
    }
    if (large) large.nodes = small;
    return violations.filter(({ nodes }: any) => nodes.length > 0).map((one: any) => `${one.id}: ${one.nodes.map((node: any) => node.html.slice(0, 120)).join(" | ")}`);
  }, TAGS);
  expect(found, where).toEqual([]);
  const sideways = await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
  expect(sideways, `${where}: wider than the window`).toBeLessThanOrEqual(0);
}

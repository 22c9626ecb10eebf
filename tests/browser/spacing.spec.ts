// Whoever needs other text than ours loses nothing: wide spacing (WCAG 2.2, 1.4.12), letters twice as large (1.4.4), the colours
// of the system, and no motion, on every screen.
import { type Page } from "@playwright/test";
import { expect, test } from "./conductor";
import { walk } from "./walk";

/** Styles of the reader's own, which no policy of a page forbids. */
const wear = (page: Page, css: string) =>
  page.addInitScript((css) => {
    const sheet = new CSSStyleSheet();
    sheet.replaceSync(css);
    document.adoptedStyleSheets.push(sheet);
  }, css);

/** What cannot be read or reached: wider than the window, cut off by its own box, or under another control. */
const lost = (page: Page) =>
  page.evaluate(() => {
    const found: string[] = [];
    const sideways = document.documentElement.scrollWidth - window.innerWidth;
    if (sideways > 1) {
      const beyond = [...document.querySelectorAll("body *")].filter((one) => one.getBoundingClientRect().right > window.innerWidth + 1);
      found.push(`the page is ${sideways} px too wide: ${beyond.map((one) => `${one.localName}.${one.className}`).join(", ")}`);
    }
    const shown = (one: Element) => one.checkVisibility({ visibilityProperty: true }) && one.getBoundingClientRect().width > 1;
    for (const one of document.querySelectorAll("main *, .top *, .foot *")) {
      const style = getComputedStyle(one);
      const hides = [style.overflowX, style.overflowY].some((way) => way === "hidden" || way === "clip");
      if (hides && shown(one) && !(one instanceof SVGElement) && !one.closest(".unseen, .sample") && one.textContent?.trim()) {
        if (one.scrollWidth > one.clientWidth + 1 || one.scrollHeight > one.clientHeight + 1) found.push(`cut off: ${one.className} ${one.textContent}`);
      }
    }
    const controls = [...document.querySelectorAll("main button, main a, main select, main input, .top a, .top button")].filter(shown);
    const boxes = controls.map((one) => [one, one.getBoundingClientRect()] as const);
    for (const [n, [one, a]] of boxes.entries()) {
      for (const [other, b] of boxes.slice(n + 1)) {
        const [across, down] = [Math.min(a.right, b.right) - Math.max(a.left, b.left), Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top)];
        // What sticks lies over what is scrolled beneath it.
        const sticks = (which: Element) => which.closest(".hand, .clocks");
        const together = sticks(one) !== sticks(other) || one.contains(other) || other.contains(one) || one.closest("dialog") !== other.closest("dialog");
        if (across > 1 && down > 1 && !together) found.push(`one over the other: ${one.textContent || one.id} | ${other.textContent || other.id}`);
      }
    }
    return found;
  });

const WAYS: [string, number, string][] = [
  ["wide spacing", 360, "* { line-height: 1.5 !important; letter-spacing: 0.12em !important; word-spacing: 0.16em !important; } p { margin-bottom: 2em !important; }"],
  ["letters twice as large", 1280, "html { font-size: 200% !important; }"],
  ["letters twice as large on a narrow screen", 640, "html { font-size: 200% !important; }"],
];

for (const [way, width, css] of WAYS) {
  for (const locale of ["en-US", "es-MX"]) {
    test.describe(locale, () => {
      test.use({ locale, viewport: { width, height: 800 } });
      test(`nothing is lost with ${way}`, async ({ page }) => {
        test.setTimeout(150_000);
        await wear(page, css);
        await walk(page, async (where) => expect.soft(await lost(page), where).toEqual([]));
      });
    });
  }
}

test.describe("in the system's colours, without motion", () => {
  test.use({ contextOptions: { forcedColors: "active", reducedMotion: "reduce" }, viewport: { width: 360, height: 740 } });
  test("nothing is lost, and nothing moves", async ({ page }) => {
    test.setTimeout(150_000);
    await walk(page, async (where) => {
      expect.soft(await lost(page), where).toEqual([]);
      const moving = await page.evaluate(() => document.getAnimations().filter((one) => one.playState === "running").length);
      expect.soft(moving, where).toBe(0);
      // What is chosen is told by a shape, since its colour is the system's.
      const pressed = await page.evaluate(() => {
        const bold = (one: Element) => Number(getComputedStyle(one).fontWeight) >= 600 || getComputedStyle(one, "::before").content !== "none";
        return [...document.querySelectorAll('main [aria-pressed="true"]')].filter((one) => !bold(one)).map((one) => one.textContent);
      });
      expect.soft(pressed, where).toEqual([]);
    });
  });
});

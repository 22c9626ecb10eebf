// A thumb on a telephone: swipes until a control is in sight, and taps it. What it taps is large enough, nothing lies over it,
// and the page never has to be moved sideways.
import { type Page } from "@playwright/test";
import { type Hand, expect } from "./conductor";

/** The least width and height of what is tapped, in CSS pixels. */
const TOUCH = 44;
/** How far from what sticks, and from the lower edge, a stroke stays. */
const MARGIN = 12;

/** What a thumb meets at a control: its label is part of it. */
const meet = (page: Page, selector: string) =>
  page.locator(selector).evaluate((control) => {
    const target = control instanceof HTMLInputElement && /checkbox|radio/.test(control.type) ? control.closest("label")! : control;
    const box = target.getBoundingClientRect();
    const inner = { left: box.left + 4, right: box.right - 4, top: box.top + 4, bottom: box.bottom - 4 };
    const points = [[(box.left + box.right) / 2, (box.top + box.bottom) / 2], [inner.left, inner.top], [inner.right, inner.top], [inner.left, inner.bottom], [inner.right, inner.bottom]];
    const covered = points.filter(([x, y]) => !target.contains(document.elementFromPoint(x, y)));
    const stuck = (edge: "top" | "bottom") =>
      [...document.querySelectorAll("main *")].filter((one) => getComputedStyle(one).position === "sticky" && getComputedStyle(one)[edge] !== "auto").map((one) => one.getBoundingClientRect());
    return {
      x: points[0][0], y: points[0][1], width: box.width, height: box.height, covered: covered.length, focused: document.activeElement === control,
      // Where what sticks to the upper edge ends, and what sticks to the lower one begins.
      ceiling: Math.max(0, ...stuck("top").map(({ bottom }) => bottom)),
      floor: Math.min(innerHeight, ...stuck("bottom").map(({ top }) => top)),
      sideways: document.documentElement.scrollWidth - innerWidth,
    };
  });

export async function thumb(page: Page): Promise<Hand> {
  const session = await page.context().newCDPSession(page);
  const { width } = page.viewportSize()!;
  let last = "";

  /** One stroke over the middle of what is free, upwards or downwards. The thumb rests at its end, so that nothing glides on. */
  async function stroke(middle: number, way: number) {
    const begun = Date.now() / 1000 - 1;
    const touch = (type: "touchStart" | "touchMove" | "touchEnd", share: number, after: number) =>
      session.send("Input.dispatchTouchEvent", { type, touchPoints: type === "touchEnd" ? [] : [{ x: width / 2, y: middle + way * share }], timestamp: begun + after });
    await touch("touchStart", -0.5, 0);
    await touch("touchMove", 0, 0.1);
    await touch("touchMove", 0.5, 0.2);
    await touch("touchMove", 0.5, 0.6);
    await touch("touchEnd", 0.5, 0.7);
    await page.evaluate(() => new Promise(requestAnimationFrame));
  }

  /** Strokes until the control lies free. */
  async function find(selector: string) {
    await expect(page.locator(selector)).toBeVisible();
    let met = await meet(page, selector);
    // Where the page itself puts the focus is in sight.
    if (met.focused && selector !== last) expect(met.covered, `${selector} has the focus and is out of sight`).toBe(0);
    for (let strokes = 0; strokes < 40 && met.covered > 0; strokes++) {
      const middle = (met.ceiling + met.floor) / 2;
      const reach = (met.floor - met.ceiling) / 2 - MARGIN;
      await stroke(middle, Math.max(-2 * reach, Math.min(2 * reach, middle - met.y)));
      met = await meet(page, selector);
    }
    expect(met.covered, `${selector} is brought into sight`).toBe(0);
    expect(Math.round(Math.min(met.width, met.height)), `${selector} is large enough`).toBeGreaterThanOrEqual(TOUCH);
    expect(met.sideways, `with ${selector}: wider than the window`).toBeLessThanOrEqual(0);
    last = selector;
    return met;
  }

  async function press(selector: string) {
    const { x, y } = await find(selector);
    await page.touchscreen.tap(x, y);
  }
  return {
    press,
    squeeze: () => press("#squeeze"),
    choose: async (selector, value) => {
      await find(selector);
      // The list itself is the telephone's.
      await page.selectOption(selector, value);
    },
    tick: async (selector) => {
      if (!(await page.locator(selector).isChecked())) await press(selector);
    },
    write: async (selector, text) => {
      await press(selector);
      await page.fill(selector, text);
    },
  };
}

/** Holds what lies there for so long, and lets go. */
export async function hold(page: Page, selector: string, ms: number) {
  const session = await page.context().newCDPSession(page);
  const { x, y } = await meet(page, selector);
  await session.send("Input.dispatchTouchEvent", { type: "touchStart", touchPoints: [{ x, y }] });
  await page.waitForTimeout(ms);
  await session.send("Input.dispatchTouchEvent", { type: "touchEnd", touchPoints: [] });
}

// How long an act takes from the click until it is painted, and whether anything keeps the page busy for long, at a quarter
// of the machine's speed: in a run from its first act on, and while one is played again at sixty times its speed.
import { type Page, expect, test } from "@playwright/test";
import { type Hand, begin, follow, mouse, open, spoilt, start } from "../conductor";
import { ROUNDS, at, note } from "./note";
import { processor } from "./slow";

/** How far each run goes, by its logbook: into the taste screening. */
const LINES = 90;

interface Click {
  took: number;
  /** Lines of the logbook before, when it was painted, and before the next click. */
  lines: number[];
}

/** Has the page time each click of its own, and gather its long tasks. */
const watch = (page: Page) =>
  page.addInitScript(() => {
    const clicks: Click[] = [];
    const long: number[] = [];
    Object.assign(window, { clicks, long });
    new PerformanceObserver((list) => long.push(...list.getEntries().map(({ duration }) => duration))).observe({ type: "longtask" });
    const lines = () => document.querySelectorAll(".logbook li").length;
    addEventListener("click", (event) => {
      clicks.at(-1)?.lines.push(lines());
      const click: Click = { took: Number.NaN, lines: [lines()] };
      clicks.push(click);
      requestAnimationFrame(() => {
        const { port1, port2 } = new MessageChannel();
        // A task of its own comes after the frame.
        port1.onmessage = () => {
          click.took = performance.now() - event.timeStamp;
          click.lines.push(lines());
        };
        port2.postMessage(null);
      });
    }, true);
  });

const gathered = (page: Page) => page.evaluate(() => (window as any).long as number[]);
const forget = (page: Page) => page.evaluate(() => ((window as any).long.length = (window as any).clicks.length = 0));

/** How long a hand holds a button down, in ms: what that draws is not the act. */
const PRESS = 60;

/** A mouse that asks the page only where a control is: anything more would be measured too. */
const plain = (page: Page): Hand => {
  const press = async (selector: string) => {
    const [x, y] = await page.evaluate((selector) => {
      const control = document.querySelector(selector)!;
      control.scrollIntoView({ block: "center" });
      const { left, top, width, height } = control.getBoundingClientRect();
      return [left + width / 2, top + height / 2];
    }, selector);
    await page.mouse.click(x, y, { delay: PRESS });
  };
  return { ...mouse(page), press, squeeze: () => press("#squeeze") };
};

test("acts of a run", async ({ browser }) => {
  const [p95, long] = [[] as number[], [] as number[]];
  for (let round = 0; round < ROUNDS; round++) {
    const page = await browser.newPage();
    await watch(page);
    await begin(page, "grinding-shop");
    await processor(page, 4);
    await forget(page);
    await follow(page, plain(page), (lines) => lines > LINES);
    const clicks = await page.evaluate(() => (window as any).clicks as Click[]);
    const acts = clicks.filter(({ lines }) => lines.at(-1)! > lines[0]);
    expect(acts.length).toBeGreaterThan(50);
    // Drawn with the frame that was timed, and not later.
    expect(acts.filter(({ lines }) => lines.length > 2 && lines[2] > lines[1])).toEqual([]);
    p95.push(at(0.95, acts.map(({ took }) => took)));
    long.push((await gathered(page)).length);
    await page.close();
  }
  note("act", p95);
  note("long-in-run", long);
});

test("a run played again", async ({ browser }) => {
  const long: number[] = [];
  for (let round = 0; round < ROUNDS; round++) {
    const page = await browser.newPage();
    await watch(page);
    await start(page);
    await open(page, spoilt("grinding-shop"));
    await page.selectOption("#play-speed", "60");
    await processor(page, 4);
    await forget(page);
    await page.click("#play");
    await page.waitForTimeout(5_000);
    const [now, from] = [await page.locator("#moment").inputValue(), await page.locator("#moment").getAttribute("min")];
    expect(Number(now) - Number(from)).toBeGreaterThan(100_000);
    long.push((await gathered(page)).length);
    await page.close();
  }
  note("long-in-playback", long);
});
